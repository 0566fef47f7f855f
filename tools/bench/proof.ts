import { createRequire } from 'node:module';
import { type Contour, contour, distanceMm, type Point, pointAt, type Segment } from '@gapwright/geometry';
import type { Motion } from '@gapwright/program';
import {
  cuttingMoves,
  type ProofSetup,
  proveProgram,
  radiusOf,
  sweptAreaMm2,
  type WireMove,
  walk,
} from '@gapwright/proof';
import type { Clipper2ZFactoryFunction, MainModule } from 'clipper2-wasm/dist/clipper2z.js';
import { type BenchLine, medianMs } from './bench-line.js';

/** Chords of the library's polygons stay this close to the arcs, mm: 1e-4 of a kerf, as the areas must agree. */
const SAG_MM = 1e-5;
/** Decimals of a millimetre the library computes with. */
const DECIMALS = 6;

const PASSES = [0.04, 0.025, 0.015, 0.012, 0.01, 0.008].map((gapMm, k) => ({
  gapMm,
  pass: k + 1,
  level: k + 1,
  register: k + 1,
  offsetMm: 0.125 + gapMm + [0.088, 0.038, 0.023, 0.013, 0.005, 0][k]!,
  stockMm: [0, 0.05, 0.015, 0.01, 0.008, 0.005][k]!,
}));

/** A ring of equal tangent circles walked alternately outside and inside: `count` arcs, all joints smooth. Starts in the middle of an outer arc. */
function wave(count: number, radiusMm: number): { contour: Contour; hole: Point } {
  const middle = radiusMm / Math.sin(Math.PI / count);
  const centre = (k: number): Point => ({
    x: middle * Math.cos((2 * Math.PI * k) / count),
    y: middle * Math.sin((2 * Math.PI * k) / count),
  });
  const out: Segment[] = [];
  for (let k = 0; k < count; k++) {
    const [a, c, b] = [centre(k - 1), centre(k), centre(k + 1)];
    const from = { x: (a.x + c.x) / 2, y: (a.y + c.y) / 2 };
    const to = { x: (c.x + b.x) / 2, y: (c.y + b.y) / 2 };
    const [ax, ay, bx, by] = [from.x - c.x, from.y - c.y, to.x - c.x, to.y - c.y];
    let sweepRad = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
    // Outer arcs turn left, inner ones right; both are a little over or under half a turn.
    if (k % 2 === 0 && sweepRad < 0) sweepRad += 2 * Math.PI;
    if (k % 2 === 1 && sweepRad > 0) sweepRad -= 2 * Math.PI;
    const whole: Segment = { kind: 'arc', from, to, centre: c, radiusMm: distanceMm(c, from), sweepRad };
    const half = pointAt(whole, 0.5);
    out.push({ ...whole, to: half, sweepRad: sweepRad / 2 }, { ...whole, from: half, sweepRad: sweepRad / 2 });
  }
  // Starts in the middle of the outer arc 0.
  const segments = [...out.slice(1), out[0]!];
  return { contour: contour(segments, true), hole: { x: middle - 5, y: 0 } };
}

function programFor(c: Contour, hole: Point): Motion[] {
  const motions: Motion[] = [];
  let line = 0;
  const place = (): { line: number; column: number } => ({ line: ++line, column: 1 });
  for (const p of PASSES) {
    motions.push({ kind: 'set-register', register: p.register, offsetMm: p.offsetMm, place: place() });
  }
  motions.push({ kind: 'rapid', from: { x: 0, y: 0 }, to: hole, place: place() });
  motions.push({ kind: 'thread-wire', place: place() }, { kind: 'fluid', on: true, place: place() });
  motions.push({ kind: 'stop', optional: false, text: 'hold the slug', place: place() });
  const start = c.segments[0]!.from;
  const feedMmPerMin = 4;
  for (const p of PASSES) {
    motions.push({ kind: 'select-level', level: p.level, place: place() });
    motions.push({ kind: 'compensation', side: 'left', register: p.register, place: place() });
    motions.push({ kind: 'line', from: hole, to: start, feedMmPerMin, place: place() });
    for (const s of c.segments) {
      if (s.kind !== 'arc') continue;
      const { from, to, centre } = s;
      motions.push({ kind: 'arc', from, to, centre, clockwise: s.sweepRad < 0, feedMmPerMin, place: place() });
    }
    motions.push({ kind: 'compensation', side: 'off', register: p.register, place: place() });
    motions.push({ kind: 'line', from: start, to: hole, feedMmPerMin, place: place() });
  }
  motions.push({ kind: 'cut-wire', place: place() }, { kind: 'end', place: place() });
  return motions;
}

/** The wire's paths with the radius each erodes: one polyline per lead-in, contour and lead-out. */
function polylines(moves: readonly WireMove[], radius: (m: WireMove) => number): { xy: number[]; radiusMm: number }[] {
  const out: { xy: number[]; radiusMm: number; run: string }[] = [];
  for (const m of moves) {
    const run = `${m.run} ${m.role === 'entry' || m.role === 'exit' ? m.role : ''}`;
    const s = m.segment;
    let last = out.at(-1);
    if (last?.run !== run) {
      last = { xy: [s.from.x, s.from.y], radiusMm: radius(m), run };
      out.push(last);
    }
    const count =
      s.kind === 'line'
        ? 1
        : Math.ceil(Math.abs(s.sweepRad) / (2 * Math.acos(1 - SAG_MM / (s.radiusMm + last.radiusMm))));
    for (let k = 1; k <= count; k++) {
      const p = pointAt(s, k / count);
      last.xy.push(p.x, p.y);
    }
  }
  return out;
}

function libraryArea(lib: MainModule, lines: readonly { xy: number[]; radiusMm: number }[]): number {
  const all = new lib.PathsD();
  for (const { xy, radiusMm } of lines) {
    const path = lib.MakePathD(xy);
    const paths = new lib.PathsD();
    paths.push_back(path);
    const grown = lib.InflatePathsD(paths, radiusMm, lib.JoinType.Round, lib.EndType.Round, 2, DECIMALS, SAG_MM);
    for (let i = 0; i < grown.size(); i++) all.push_back(grown.get(i)!);
    for (const used of [path, paths, grown]) used.delete();
  }
  const united = lib.UnionSelfD(all, lib.FillRule.NonZero, DECIMALS);
  const area = lib.AreaPathsD(united);
  all.delete();
  united.delete();
  return area;
}

/** Whole proofs and the eroded area beside a polygon library. */
export async function run(quick: boolean): Promise<BenchLine[]> {
  const require = createRequire(import.meta.url);
  const factory = require('clipper2-wasm/dist/umd/clipper2z.js') as Clipper2ZFactoryFunction;
  const lib = await factory();
  const out: BenchLine[] = [];
  for (const arcs of quick ? [60] : [60, 250]) {
    const { contour: c, hole } = wave(arcs, 0.5);
    const motions = programFor(c, hole);
    const setup: ProofSetup = {
      wireDiameterMm: 0.25,
      heightMm: 20,
      levels: PASSES.map((p) => ({ level: p.level, gapMm: p.gapMm })),
      passes: PASSES,
      startHoles: [{ id: 'H1', centre: hole, diameterMm: 1.5 }],
      plate: null,
      keepOuts: [],
      travel: null,
      tabs: [],
      toleranceMm: 0.003,
      agreedCornerRadiusMm: 0,
    };
    const features = [{ id: 'F1', kind: 'opening' as const, contour: c }];
    const result = proveProgram(motions, setup, features);
    if (result.verdict !== 'pass') throw new Error(result.findings.map((f) => f.message).join('\n'));
    const moves = cuttingMoves(walk(motions));
    const radius = radiusOf(setup);
    const segments = moves.map((m) => m.segment);
    const radii = Float64Array.from(moves, radius);
    const lines = polylines(moves, radius);
    const theirs = libraryArea(lib, lines);
    const difference = Math.abs(result.erodedAreaMm2 - theirs) / theirs;
    if (difference > 1e-4) throw new Error(`areas differ: ${result.erodedAreaMm2} and ${theirs} mm2`);
    const input = `closed contour of ${2 * arcs} arcs, 6 passes`;
    const agreement = `areas differ by ${difference.toExponential(1)} of ${theirs.toFixed(2)} mm2`;
    const rounds = quick ? 3 : 5;
    const libraryMs = medianMs(() => libraryArea(lib, lines), rounds, 1);
    const areaMs = medianMs(() => sweptAreaMm2(segments, radii), rounds, 1);
    const proofMs = medianMs(() => proveProgram(motions, setup, features), rounds, 1);
    const line = { unit: 'ms', input, agreement };
    out.push({ name: 'eroded area, speed', ours: areaMs, theirs: libraryMs, ratio: libraryMs / areaMs, ...line });
    out.push({
      name: 'whole proof against the library area alone, speed',
      ours: proofMs,
      theirs: libraryMs,
      ratio: libraryMs / proofMs,
      ...line,
    });
  }
  return out;
}
