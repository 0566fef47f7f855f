import { type Problem, problem } from '@gapwright/base';
import type { Point } from '@gapwright/geometry';
import { type ContourSample, sampleContour } from './contour-samples.js';
import { distanceTo } from './distance.js';
import type { PartFeature } from './part.js';
import type { DeviationSample, PassOutcome } from './result.js';
import type { AssignedRun } from './runs.js';
import type { ProofSetup } from './setup.js';
import { REACH_MM, STOCK_BAND_MM, STOCK_SHARE, UNCUT_MM } from './tolerances.js';

export interface PassReport {
  readonly passes: readonly PassOutcome[];
  readonly findings: readonly Problem[];
  readonly errorBand: readonly DeviationSample[];
  readonly samples: readonly ContourSample[];
  /** For each sample the run and the piece of it that first cut through there; run -1 when none did. */
  readonly firstCut: readonly { readonly run: number; readonly motion: number; readonly line: number }[];
}

interface Tally {
  coveredMm: number;
  min: number;
  minAt: Point | null;
  max: number;
  maxAt: Point | null;
  missingAt: Point | null;
  earlyAt: Point | null;
  earlyLine: number;
  line: number | null;
}

/** Follows the wall of one feature through all runs in program order, place by place. */
export function followPasses(
  f: PartFeature,
  runs: readonly AssignedRun[],
  setup: ProofSetup,
  spacingMm: number,
): PassReport {
  const largest = setup.passes.reduce((m, p) => Math.max(m, p.offsetMm), 0);
  // Inside corners may be rounded by the agreed radius, so what a disc of that size cannot touch need not be reached.
  const samples = sampleContour(f, Math.max(largest, setup.agreedCornerRadiusMm), spacingMm);
  const tallies = setup.passes.map(
    (): Tally => ({
      coveredMm: 0,
      min: Infinity,
      minAt: null,
      max: -Infinity,
      maxAt: null,
      missingAt: null,
      earlyAt: null,
      earlyLine: 0,
      line: null,
    }),
  );
  const firstCut: { run: number; motion: number; line: number }[] = [];
  const errorBand: DeviationSample[] = [];
  let reachableMm = 0;
  for (const sample of samples) {
    const seen = new Array<boolean>(setup.passes.length).fill(false);
    let wall = UNCUT_MM;
    // What passes before the k-th left here. Round ends of later passes reach into a tab before its own skims come; they do not count.
    const leftBefore = new Array<number>(setup.passes.length + 1).fill(UNCUT_MM);
    let cut = { run: -1, motion: -1, line: 0 };
    for (const r of runs) {
      const clear = r.sweep.clearance(sample.at);
      if (r.pass !== null && sample.reachable) {
        const offset = r.run.side === 'off' ? setup.passes[r.pass]!.offsetMm : r.run.offsetMm;
        const reach = offset + REACH_MM;
        const nearest = nearestOf(r, sample.at, reach);
        const tally = tallies[r.pass]!;
        tally.line ??= r.line;
        if (nearest >= 0) {
          if (cut.run < 0) {
            const move = r.body.moves[nearest]!;
            cut = { run: r.run.id, motion: move.motion, line: move.line };
          }
          if (!seen[r.pass]) {
            seen[r.pass] = true;
            tally.coveredMm += sample.stretchMm;
            if (r.pass > 0) noteStock(tally, sample.at, leftBefore[r.pass]!, clear.value, seen[r.pass - 1]!, r.line);
          }
        }
      }
      if (clear.value < wall) wall = clear.value;
      for (let k = (r.pass ?? -1) + 1; k < leftBefore.length; k++)
        leftBefore[k] = Math.min(leftBefore[k]!, clear.value);
    }
    errorBand.push({ at: sample.at, deviationMm: wall });
    firstCut.push(cut);
    if (!sample.reachable) continue;
    reachableMm += sample.stretchMm;
    seen.forEach((done, k) => {
      if (!done) tallies[k]!.missingAt ??= sample.at;
    });
  }
  const findings = setup.passes.flatMap((_, k) => judge(f, setup, k, tallies[k]!, reachableMm));
  const passes = setup.passes.map((p, k): PassOutcome => {
    const t = tallies[k]!;
    const known = t.min <= t.max;
    return {
      pass: p.pass,
      stockMinMm: known ? t.min : null,
      stockMaxMm: known ? t.max : null,
      covered: reachableMm === 0 ? 0 : t.coveredMm / reachableMm,
    };
  });
  return { passes, findings, errorBand, samples, firstCut };
}

/** Index of the body piece nearest to a place, when nearer than `reach`; -1 otherwise. */
function nearestOf(r: AssignedRun, p: Point, reach: number): number {
  let best = reach;
  let index = -1;
  r.body.near(p, reach, (i) => {
    const d = distanceTo(r.body.segments[i]!, p.x, p.y);
    if (d < best) {
      best = d;
      index = i;
    }
  });
  return index;
}

function noteStock(t: Tally, at: Point, wall: number, clear: number, previousSeen: boolean, line: number): void {
  if (!previousSeen) {
    if (t.earlyAt === null) t.earlyLine = line;
    t.earlyAt ??= at;
    return;
  }
  if (wall >= UNCUT_MM) return;
  const stock = wall - clear;
  if (stock < t.min) {
    t.min = stock;
    t.minAt = at;
  }
  if (stock > t.max) {
    t.max = stock;
    t.maxAt = at;
  }
}

function judge(f: PartFeature, setup: ProofSetup, k: number, t: Tally, reachableMm: number): Problem[] {
  const { id } = f.feature;
  const wanted = setup.passes[k]!;
  const out: Problem[] = [];
  const add = (code: string, at: Point | null, what: string, fix: string, line: number | null): void => {
    out.push(
      problem({
        code,
        severity: 'stop',
        what: `${id}, pass ${wanted.pass}: ${what}`,
        fix,
        at: {
          feature: id,
          pass: wanted.pass,
          ...(at === null ? {} : { xMm: at.x, yMm: at.y }),
          ...(line === null ? {} : { line }),
        },
      }),
    );
  };
  if (t.coveredMm === 0 && reachableMm > 0) {
    add('PROOF-PASS-MISSING', t.missingAt, 'never runs', 'Add the pass to the program', null);
    return out;
  }
  if (t.missingAt !== null) {
    const share = (100 * (1 - t.coveredMm / reachableMm)).toFixed(1);
    add(
      'PROOF-PASS-INCOMPLETE',
      t.missingAt,
      `leaves out ${share} % of the contour, first at (${t.missingAt.x.toFixed(3)}, ${t.missingAt.y.toFixed(3)})`,
      'Complete the path of the pass',
      t.line,
    );
  }
  if (t.earlyAt !== null) {
    add(
      'PROOF-PASS-ORDER',
      t.earlyAt,
      `runs at (${t.earlyAt.x.toFixed(3)}, ${t.earlyAt.y.toFixed(3)}) before pass ${setup.passes[k - 1]!.pass} was there`,
      'Bring the passes into the order of the set-up',
      t.earlyLine,
    );
  }
  const band = stockBandMm(wanted.stockMm);
  if (k > 0 && t.min < wanted.stockMm - band) {
    add(
      'PROOF-STOCK',
      t.minAt,
      `takes only ${t.min.toFixed(4)} mm, the ladder says ${wanted.stockMm.toFixed(4)} ± ${band.toFixed(4)} mm`,
      'Check the registers of this pass and the one before',
      t.line,
    );
  }
  if (k > 0 && t.max > wanted.stockMm + band) {
    add(
      'PROOF-STOCK',
      t.maxAt,
      `takes ${t.max.toFixed(4)} mm, the ladder says ${wanted.stockMm.toFixed(4)} ± ${band.toFixed(4)} mm`,
      'Check the registers of this pass and the one before',
      t.line,
    );
  }
  return out;
}

/** How far the stock of a skim may be from the ladder's, mm. */
function stockBandMm(stockMm: number): number {
  return Math.max(STOCK_BAND_MM, STOCK_SHARE * stockMm);
}
