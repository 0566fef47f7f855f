import { readFileSync } from 'node:fs';
import { BugError } from '@gapwright/base';
import { type Contour, contour, line, type Point, pointAt, type Segment, tangentAt } from '@gapwright/geometry';
import {
  type Motion,
  type PostDefinition,
  type ProgramStep,
  parsePost,
  readProgram,
  writeProgram,
} from '@gapwright/program';
import { cutSegment, leftOf } from '../offset-block.js';
import type { ProofFeature, ProofSetup } from '../setup.js';

const postJson: unknown = JSON.parse(
  readFileSync(new URL('../../../../shop/posts/iso-6983.json', import.meta.url), 'utf8'),
);

/** The shipped definition, with coordinates and offsets to 0.1 µm so that rounding does not hide what is tested. */
export const POST: PostDefinition = fine(postJson);

function fine(json: unknown): PostDefinition {
  const copy = structuredClone(json) as { numbers: Record<'coordinate' | 'offset', { decimals: number }> };
  copy.numbers.coordinate.decimals = 4;
  copy.numbers.offset.decimals = 4;
  const { value, problems } = parsePost(copy);
  if (value === null) throw new BugError(problems.map((p) => p.message).join(' '));
  return value;
}

/** A burned feature with where its wire is threaded and how long its tab is. */
export interface SampleFeature {
  readonly feature: ProofFeature;
  readonly hole: Point;
  /** 0: no tab. The tab is the last stretch of the contour. */
  readonly tabMm: number;
  /** Where an open cut leaves the plate; the wire is cut there and threaded again in the hole. */
  readonly out?: Point;
}

export interface SampleJob {
  readonly setup: ProofSetup;
  readonly features: readonly ProofFeature[];
  readonly steps: readonly ProgramStep[];
}

const WIRE_MM = 0.25;
const GAPS = [0.04, 0.025, 0.015, 0.012, 0.01, 0.008];
const STOCKS = [0, 0.05, 0.015, 0.01, 0.008, 0.005];

/** Offsets of a ladder of `count` passes: half the wire, the gap, and the stock of all later passes. */
export function ladder(count: number): ProofSetup['passes'] {
  return Array.from({ length: count }, (_, k) => {
    let offsetMm = WIRE_MM / 2 + GAPS[k]!;
    // What pass k leaves is what the later passes take: wall position = offset - radius.
    for (let j = k + 1; j < count; j++) offsetMm += STOCKS[j]!;
    return {
      pass: k + 1,
      level: 10 + k,
      register: k + 1,
      offsetMm: Math.round(offsetMm * 1e4) / 1e4,
      stockMm: k === 0 ? 0 : STOCKS[k]!,
    };
  });
}

/** Splits the contour at a length before its end: the main stretch and the tab. */
export function splitTab(segments: readonly Segment[], tabMm: number): { main: Segment[]; tab: Segment[] } {
  const lengths = segments.map((s) =>
    s.kind === 'line'
      ? Math.sqrt((s.to.x - s.from.x) ** 2 + (s.to.y - s.from.y) ** 2)
      : s.radiusMm * Math.abs(s.sweepRad),
  );
  let left = tabMm;
  let i = segments.length - 1;
  while (i > 0 && lengths[i]! < left) left -= lengths[i--]!;
  const s = segments[i]!;
  const p = pointAt(s, 1 - left / lengths[i]!);
  const parts =
    s.kind === 'line' ? [line(s.from, p), line(p, s.to)] : [cutSegment(s, s.from, p), cutSegment(s, p, s.to)];
  return { main: [...segments.slice(0, i), parts[0]!], tab: [parts[1]!, ...segments.slice(i + 1)] };
}

function cutStep(
  f: SampleFeature,
  pass: ProofSetup['passes'][number],
  path: readonly Segment[],
  side: 'left' | 'right',
): ProgramStep {
  const from = path[0]!.from;
  const last = path.at(-1)!;
  return {
    kind: 'cut',
    feature: f.feature.id,
    pass: pass.pass,
    side,
    register: pass.register,
    feedMmPerMin: 4,
    leadIn: [line(f.hole, from)],
    path,
    leadOut: [line(last.to, f.out ?? f.hole)],
  };
}

/** Signed: which side of the drawn direction the waste lies on. */
export function wasteSide(f: ProofFeature): 'left' | 'right' {
  if (f.kind === 'open') return f.partSide === 'left' ? 'right' : 'left';
  let twice = 0;
  for (const s of f.contour.segments) {
    twice += s.from.x * s.to.y - s.to.x * s.from.y;
    if (s.kind === 'arc') twice += s.radiusMm ** 2 * (s.sweepRad - Math.sin(s.sweepRad));
  }
  return twice > 0 === (f.kind === 'opening') ? 'left' : 'right';
}

/**
 * A right program for the features, one after the other: rough and skims of the main stretch, stop, tab cut and its
 * skims. Every cut starts and ends in the hole, so that the wire need not be cut between.
 */
export function sampleJob(
  features: readonly SampleFeature[],
  passCount: number,
  change: Partial<ProofSetup> = {},
): SampleJob {
  const passes = ladder(passCount);
  const setup: ProofSetup = {
    wireDiameterMm: WIRE_MM,
    heightMm: 20,
    levels: passes.map((p, k) => ({ level: p.level, gapMm: GAPS[k]! })),
    passes,
    startHoles: features.map((f, i) => ({ id: `H${i + 1}`, centre: f.hole, diameterMm: 1.5 })),
    plate: { minX: -30, minY: -30, maxX: 60, maxY: 50 },
    keepOuts: [],
    travel: { minX: -100, minY: -100, maxX: 200, maxY: 200 },
    tabs: features.flatMap((f) => {
      if (f.tabMm === 0) return [];
      const { tab } = splitTab(f.feature.contour.segments, f.tabMm);
      return [{ feature: f.feature.id, from: tab[0]!.from, to: tab.at(-1)!.to }];
    }),
    toleranceMm: 0.003,
    agreedCornerRadiusMm: 0,
    ...change,
  };
  const steps: ProgramStep[] = passes.map((p) => ({
    kind: 'set-register',
    register: { number: p.register, offsetMm: p.offsetMm },
  }));
  for (const f of features) {
    const side = wasteSide(f.feature);
    const { main, tab } =
      f.tabMm === 0
        ? { main: [...f.feature.contour.segments], tab: [] }
        : splitTab(f.feature.contour.segments, f.tabMm);
    steps.push({ kind: 'move', to: f.hole }, { kind: 'thread-wire', at: f.hole }, { kind: 'fluid', on: true });
    if (f.tabMm === 0) steps.push({ kind: 'stop', reason: `Hold ${f.feature.id}`, optional: false });
    for (const [k, p] of passes.entries()) {
      if (f.out !== undefined && k > 0) {
        steps.push({ kind: 'cut-wire' }, { kind: 'move', to: f.hole }, { kind: 'thread-wire', at: f.hole });
      }
      steps.push({ kind: 'select-level', level: p.level }, cutStep(f, p, main, side));
    }
    if (tab.length > 0) {
      steps.push({ kind: 'stop', reason: `Hold ${f.feature.id}`, optional: false });
      for (const p of passes) steps.push({ kind: 'select-level', level: p.level }, cutStep(f, p, tab, side));
    }
    steps.push({ kind: 'cut-wire' });
  }
  return { setup, features: features.map((f) => f.feature), steps };
}

/** Steps as text through the shipped definition, read back. */
export function asText(steps: readonly ProgramStep[]): string {
  const { value, problems } = writeProgram(steps, POST, { title: 'Sample', notes: [] });
  if (value === null) throw new BugError(problems.map((p) => p.message).join(' '));
  return value.text;
}

export function motionsOf(text: string): readonly Motion[] {
  const { value, problems } = readProgram(text, POST);
  if (value === null) throw new BugError(problems.map((p) => p.message).join(' '));
  return value;
}

/** Contour through corner points, corners rounded by the given radii (0: sharp). Starts in the middle of the first side. */
export function polygon(corners: readonly (Point & { r?: number })[]): Contour {
  const n = corners.length;
  const out: Segment[] = [];
  const trims = corners.map((c, i) => {
    const a = corners[(i + n - 1) % n]!;
    const b = corners[(i + 1) % n]!;
    const u = unit(a, c);
    const v = unit(c, b);
    const turn = Math.atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y);
    const r = c.r ?? 0;
    const t = r * Math.abs(Math.tan(turn / 2));
    return { u, v, turn, r, from: { x: c.x - u.x * t, y: c.y - u.y * t }, to: { x: c.x + v.x * t, y: c.y + v.y * t } };
  });
  const start = mid(trims[0]!.to, trims[1]!.from);
  let at = start;
  for (let k = 1; k <= n; k++) {
    const t = trims[k % n]!;
    out.push(line(at, t.from));
    if (t.r > 0) {
      const left = leftOf(t.u);
      const s = Math.sign(t.turn) * t.r;
      const centre = { x: t.from.x + left.x * s, y: t.from.y + left.y * s };
      out.push({ kind: 'arc', from: t.from, to: t.to, centre, radiusMm: t.r, sweepRad: t.turn });
    }
    at = t.to;
  }
  out.push(line(at, start));
  return contour(out, true);
}

function unit(a: Point, b: Point): Point {
  return tangentAt(line(a, b), 0);
}

function mid(a: Point, b: Point): Point {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}
