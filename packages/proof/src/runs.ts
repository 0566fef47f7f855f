import { type Problem, problem } from '@gapwright/base';
import { pointAt, segmentLengthMm } from '@gapwright/geometry';
import type { Part } from './part.js';
import type { ProofSetup } from './setup.js';
import { Sweep } from './sweep.js';
import { REGISTER_ROUNDING_MM } from './tolerances.js';
import type { Run, Walk, WireMove } from './walk.js';

/** A run of cutting moves with the feature it works on and the pass it is. */
export interface AssignedRun {
  readonly run: Run;
  readonly moves: readonly WireMove[];
  /** Index of the feature nearest to most of its length. */
  readonly feature: number;
  /** Index into the set-up's passes; null when the run is none of them. */
  readonly pass: number | null;
  /** All its moves. */
  readonly sweep: Sweep;
  /** Without lead-in and lead-out: what covers the contour. */
  readonly body: Sweep;
  readonly firstMotion: number;
  readonly lastMotion: number;
  readonly line: number;
}

/** Sorts the cutting moves into runs, with their feature and pass, and checks register, level and side of each. */
export function assignRuns(
  walk: Walk,
  cutting: readonly WireMove[],
  part: Part,
  setup: ProofSetup,
  radius: (move: WireMove) => number,
): { readonly runs: AssignedRun[]; readonly findings: Problem[] } {
  const findings: Problem[] = [];
  const byRun = new Map<number, WireMove[]>();
  for (const move of cutting) {
    const list = byRun.get(move.run);
    if (list === undefined) byRun.set(move.run, [move]);
    else list.push(move);
  }
  const runs: AssignedRun[] = [];
  for (const [id, moves] of byRun) {
    const run = walk.runs[id]!;
    const body = moves.filter((m) => m.role === 'contour' || m.role === 'corner' || m.role === 'plain');
    const { feature, wrongShare } = nearestFeature(part, body.length > 0 ? body : moves, run);
    const line = moves[0]!.line;
    const pass = passOf(run, setup);
    const name = part.features[feature]?.feature.id;
    const at = {
      line,
      ...(name === undefined ? {} : { feature: name }),
      ...(pass === null ? {} : { pass: setup.passes[pass]!.pass }),
    };
    if (run.side !== 'off') {
      if (pass === null) {
        findings.push(
          problem({
            code: 'PROOF-UNKNOWN-PASS',
            severity: 'stop',
            what: `Line ${line}: register ${run.register} belongs to no pass of the set-up`,
            fix: 'Use the register of the pass',
            at,
          }),
        );
      } else {
        const wanted = setup.passes[pass]!;
        if (run.level !== wanted.level) {
          findings.push(
            problem({
              code: 'PROOF-WRONG-LEVEL',
              severity: 'stop',
              what: `Line ${line}: pass ${wanted.pass} runs at level ${run.level ?? 'none'}, the set-up says ${wanted.level}`,
              fix: 'Select the level of the pass before its cut',
              at,
            }),
          );
        }
        if (Math.abs(run.offsetMm - wanted.offsetMm) > REGISTER_ROUNDING_MM) {
          findings.push(
            problem({
              code: 'PROOF-REGISTER-VALUE',
              severity: 'stop',
              what: `Line ${line}: register ${run.register} holds ${run.offsetMm.toFixed(4)} mm, the set-up says ${wanted.offsetMm.toFixed(4)} mm`,
              fix: 'Correct the register',
              at,
            }),
          );
        }
      }
      if (wrongShare > 0.5) {
        const other = run.side === 'left' ? 'right' : 'left';
        findings.push(
          problem({
            code: 'PROOF-WRONG-SIDE',
            severity: 'stop',
            what: `Line ${line}: the wire runs inside the part, ${run.side} of its path`,
            fix: `Compensate to the ${other} or turn the path round`,
            at,
          }),
        );
      }
    }
    runs.push({
      run,
      moves,
      feature,
      pass,
      sweep: new Sweep(moves, radius),
      body: new Sweep(body, radius),
      firstMotion: moves[0]!.motion,
      lastMotion: moves.at(-1)!.motion,
      line,
    });
  }
  return { runs, findings };
}

/** A compensated run is the pass of its register; an uncompensated one is a pass only when its level tells which. */
function passOf(run: Run, setup: ProofSetup): number | null {
  if (run.side !== 'off') {
    const same = setup.passes.map((p, i) => ({ p, i })).filter(({ p }) => p.register === run.register);
    return (same.find(({ p }) => p.level === run.level) ?? same[0])?.i ?? null;
  }
  const same = setup.passes.map((p, i) => ({ p, i })).filter(({ p }) => p.level === run.level);
  return same.length === 1 ? same[0]!.i : null;
}

/** The feature nearest to most of the run's length, and the share of its length on that feature's part side. */
function nearestFeature(part: Part, moves: readonly WireMove[], run: Run): { feature: number; wrongShare: number } {
  const lengths = new Map<number, number>();
  let total = 0;
  // Half the length decides; long runs are judged by every few pieces.
  const stride = Math.max(1, Math.floor(moves.length / 64));
  const places: { feature: number; part: boolean; length: number }[] = [];
  for (let i = 0; i < moves.length; i += stride) {
    const s = moves[i]!.segment;
    const length = segmentLengthMm(s);
    const where = part.isPart(pointAt(s, 0.5));
    places.push({ feature: where.feature, part: where.part, length });
    lengths.set(where.feature, (lengths.get(where.feature) ?? 0) + length);
    total += length;
  }
  let feature = -1;
  let most = -1;
  for (const [index, length] of lengths) {
    if (length > most) {
      most = length;
      feature = index;
    }
  }
  let wrong = 0;
  for (const p of places) if (p.feature === feature && p.part) wrong += p.length;
  return { feature, wrongShare: run.side === 'off' || total === 0 ? 0 : wrong / total };
}
