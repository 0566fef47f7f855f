import { createRequire } from 'node:module';
import { seededRandom } from '@gapwright/base';
import {
  arc,
  arcPieces,
  areaMm2,
  type Contour,
  contour,
  line,
  offsetContour,
  type Point,
  pointAt,
} from '@gapwright/geometry';
import { Clipper, EndType, JoinType } from 'clipper2-ts';
import type { Clipper2ZFactoryFunction, MainModule } from 'clipper2-wasm/dist/clipper2z.js';
import { type BenchLine, medianMs } from './bench-line.js';

/** Chord tolerance the polygon libraries get: 0.1 µm. */
const CHORD_MM = 1e-4;
/** Decimals of a millimetre the libraries compute with. */
const DECIMALS = 6;

/** A wheel of arcs: round tips and roots joined by straight flanks, four segments a tooth, all joints smooth. */
function arcGear(segments: number, outerMm: number): Contour {
  const teeth = segments / 4;
  const pitch = (2 * Math.PI) / teeth;
  // Tip and root circles sit on one middle circle, half a pitch apart; flanks are their inner tangents.
  const between = 2 * Math.sin(pitch / 4);
  const middleMm = outerMm / (1 + 0.35 * between);
  const r = 0.35 * between * middleMm;
  const centre = (k: number): Point => ({
    x: middleMm * Math.cos((k * pitch) / 2),
    y: middleMm * Math.sin((k * pitch) / 2),
  });
  const out = [];
  const touch: { leave: Point; reach: Point }[] = [];
  for (let k = 0; k < 2 * teeth; k++) {
    const a = centre(k);
    const b = centre(k + 1);
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const apart = Math.sqrt(dx * dx + dy * dy);
    const isTip = k % 2 === 0;
    // Inner tangent: the normal makes the angle whose cosine is 2 r / apart with the line of centres.
    const c = (2 * r) / apart;
    const s = Math.sqrt(1 - c * c) * (isTip ? -1 : 1);
    const nx = (dx * c + dy * s) / apart;
    const ny = (dy * c - dx * s) / apart;
    touch.push({ leave: { x: a.x + r * nx, y: a.y + r * ny }, reach: { x: b.x - r * nx, y: b.y - r * ny } });
  }
  for (let k = 0; k < 2 * teeth; k++) {
    const at = centre(k);
    const from = touch[(k + 2 * teeth - 1) % (2 * teeth)]!.reach;
    const { leave, reach } = touch[k]!;
    const side = k % 2 === 0 ? 1 : -1;
    const cross = side * ((from.x - at.x) * (leave.y - at.y) - (from.y - at.y) * (leave.x - at.x));
    const dot = (from.x - at.x) * (leave.x - at.x) + (from.y - at.y) * (leave.y - at.y);
    out.push(arc(from, leave, at, side * Math.atan2(cross, dot)), line(leave, reach));
  }
  return contour(out, true);
}

/** Straight lines between points at random distances from the centre. */
function starLines(corners: number, seed: number): Contour {
  const random = seededRandom(seed);
  const points = Array.from({ length: corners }, (_, i) => {
    const angle = ((i + 0.5 * random.uniform()) * 2 * Math.PI) / corners;
    const r = 50 * (0.8 + 0.2 * random.uniform());
    return { x: r * Math.cos(angle), y: r * Math.sin(angle) };
  });
  return contour(
    points.map((p, i) => line(p, points[(i + 1) % corners]!)),
    true,
  );
}

function chords(c: Contour): Point[] {
  return c.segments.flatMap((s) => {
    if (s.kind === 'line') return [s.from];
    const step = 2 * Math.acos(1 - CHORD_MM / s.radiusMm);
    const count = Math.max(1, Math.ceil(Math.abs(s.sweepRad) / step));
    return Array.from({ length: count }, (_, i) => pointAt(s, i / count));
  });
}

interface Task {
  readonly name: string;
  readonly contour: Contour;
  readonly distances: readonly number[];
}

function tasks(): Task[] {
  const gears = [100, 1_000, 10_000].map((n) => ({
    name: `arc gear ${n}, 0.15 mm out`,
    contour: arcGear(n, 60),
    distances: [-0.15],
  }));
  return [
    ...gears,
    { name: 'arc gear 1000, 0.03 mm in', contour: arcGear(1_000, 60), distances: [0.03] },
    { name: 'star 1000 lines, 0.05 mm in', contour: starLines(1_000, 5), distances: [0.05] },
    { name: 'star 1000 lines, 0.05 mm out', contour: starLines(1_000, 5), distances: [-0.05] },
    { name: 'arc gear 1000, 10 mm in, collapsing', contour: arcGear(1_000, 60), distances: [10] },
    { name: 'star 1000 lines, 5 mm in, collapsing', contour: starLines(1_000, 5), distances: [5] },
    {
      name: 'arc gear 300 die, 6 passes',
      contour: arcGear(300, 40),
      distances: [0.25, 0.19, 0.165, 0.155, 0.151, 0.15],
    },
    {
      name: 'circle, 2 arcs',
      contour: contour(arcPieces({ x: 0, y: 0 }, 25, 0, 2 * Math.PI), true),
      distances: [-0.15],
    },
  ];
}

async function loadWasm(): Promise<MainModule> {
  const require = createRequire(import.meta.url);
  const factory = require('clipper2-wasm') as Clipper2ZFactoryFunction;
  return (await factory()) as MainModule;
}

/** Vertices per second against two polygon libraries that get the same curves as 0.1 µm chords. */
export async function run(quick: boolean): Promise<BenchLine[]> {
  const wasm = await loadWasm();
  const lines: BenchLine[] = [];
  for (const task of tasks()) {
    const points = chords(task.contour);
    const vertices = task.contour.segments.length * task.distances.length;
    const rounds = quick ? 5 : 25;
    const path = points.map((p) => ({ x: p.x, y: p.y }));
    const paths = new wasm.PathsD();
    paths.push_back(wasm.MakePathD(points.flatMap((p) => [p.x, p.y])));
    const { Round } = wasm.JoinType;
    const { Polygon } = wasm.EndType;

    const ours = (): Contour[] => task.distances.flatMap((d) => offsetContour(task.contour, d));
    const byTs = (): number =>
      task.distances.reduce(
        (sum, d) =>
          sum +
          Clipper.areaPathsD(Clipper.inflatePathsD([path], -d, JoinType.Round, EndType.Polygon, 2, DECIMALS, CHORD_MM)),
        0,
      );
    const byWasm = (isCounted: boolean): number => {
      let sum = 0;
      for (const d of task.distances) {
        const out = wasm.InflatePathsD(paths, -d, Round, Polygon, 2, DECIMALS, CHORD_MM);
        if (isCounted) sum += wasm.AreaPathsD(out);
        out.delete();
      }
      return sum;
    };

    const area = ours().reduce((sum, c) => sum + areaMm2(c), 0);
    const oursMs = medianMs(ours, rounds * 4, quick ? 100 : 200);
    const input = `${task.contour.segments.length} segments, ${points.length} chords, ${task.distances.length} offset(s)`;
    const compare = (library: string, theirArea: number, theirMs: number): void => {
      const difference = Math.abs(area - theirArea) / Math.max(1, Math.abs(theirArea));
      const perSecond = (ms: number): number => Math.round(vertices / (ms / 1000));
      if (difference > 1e-4)
        throw new Error(`${task.name}: areas differ by ${difference} (${area}, ${library} ${theirArea})`);
      lines.push({
        name: `${task.name}, throughput against ${library}`,
        ours: perSecond(oursMs),
        theirs: perSecond(theirMs),
        ratio: theirMs / oursMs,
        unit: 'vertices/s',
        input: `${input}; ours ${oursMs.toFixed(3)} ms, theirs ${theirMs.toFixed(3)} ms`,
        agreement: `areas of the results differ by ${difference.toExponential(1)} (relative)`,
      });
    };
    compare(
      'clipper2-wasm',
      byWasm(true),
      medianMs(() => byWasm(false), quick ? 3 : 7, 1),
    );
    compare('clipper2-ts', byTs(), medianMs(byTs, quick ? 1 : 3, 0));
    paths.delete();
  }
  return lines;
}
