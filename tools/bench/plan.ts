import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import {
  arcPieces,
  areaMm2,
  type Contour,
  contour,
  line,
  offsetContour,
  type Point,
  pointAt,
  type Segment,
} from '@gapwright/geometry';
import { planWire, type WireOperation, type WireRequest } from '@gapwright/planning';
import { parseShopBook, type ShopBook } from '@gapwright/process';
import type { Clipper2ZFactoryFunction, MainModule } from 'clipper2-wasm/dist/clipper2z.js';
import { type BenchLine, medianMs } from './bench-line.js';

/** Chord tolerance the polygon library gets: 0.1 µm. */
const CHORD_MM = 1e-4;
/** Decimals of a millimetre the library computes with. */
const DECIMALS = 6;
/** Areas of all offset contours may differ by this share: what chords of 0.1 µm leave out. */
const AREA_SHARE = 1e-4;

const REQUEST: WireRequest = { materialId: 'D2', heightMm: 30, raUm: 0.4, toleranceMm: 0.006, quantity: 1 };

interface Drawing {
  readonly name: string;
  readonly contours: readonly Contour[];
}

function roundedRectangle(x: number, y: number, width: number, height: number, r: number): Contour {
  const centres: [number, number][] = [
    [x + width - r, y + r],
    [x + width - r, y + height - r],
    [x + r, y + height - r],
    [x + r, y + r],
  ];
  const arcs = centres.map(([cx, cy], i) => arcPieces({ x: cx, y: cy }, r, ((i - 1) * Math.PI) / 2, Math.PI / 2)[0]!);
  const segments = arcs.flatMap((a, i): Segment[] => [line(arcs[(i + 3) % 4]!.to, a.from), a]);
  return contour(segments, true);
}

function drawings(): Drawing[] {
  const windows: Contour[] = [];
  for (let i = 0; i < 62; i++) {
    windows.push(roundedRectangle(10 + (i % 10) * 20, 10 + Math.floor(i / 10) * 16, 12, 8, 0.8 + (i % 3) * 0.4));
  }
  const holes: Contour[] = [];
  for (let i = 0; i < 250; i++) {
    const centre = { x: 8 + (i % 25) * 10, y: 8 + Math.floor(i / 25) * 10 };
    holes.push(contour(arcPieces(centre, 2.4 + (i % 3) * 0.3, 0, 2 * Math.PI), true));
  }
  return [
    { name: 'plate with 62 windows', contours: [roundedRectangle(0, 0, 220, 120, 4), ...windows] },
    { name: 'plate with 250 holes', contours: [roundedRectangle(0, 0, 260, 110, 4), ...holes] },
  ];
}

function chords(c: Contour): Point[] {
  return c.segments.flatMap((s) => {
    if (s.kind === 'line') return [s.from];
    const step = 2 * Math.acos(1 - CHORD_MM / s.radiusMm);
    const count = Math.max(1, Math.ceil(Math.abs(s.sweepRad) / step));
    return Array.from({ length: count }, (_, i) => pointAt(s, i / count));
  });
}

function readBook(): ShopBook {
  // The compiled bench lies one folder deeper than its source.
  const file = new URL('../../../shop/starting-shop-book.json', import.meta.url);
  const { value, problems } = parseShopBook(JSON.parse(readFileSync(file, 'utf8')));
  if (value === null) throw new Error(problems.map((p) => p.message).join('\n'));
  return value;
}

/** A whole plan (all wires, ladders, holes, tabs, order, figures) against offsetting the same contours once per pass. */
export async function run(quick: boolean): Promise<BenchLine[]> {
  const require = createRequire(import.meta.url);
  const wasm = (await (require('clipper2-wasm') as Clipper2ZFactoryFunction)()) as MainModule;
  const book = readBook();
  const rounds = quick ? 5 : 21;
  return drawings().map(({ name, contours }): BenchLine => {
    const drawn = contours.map((c) => ({ contour: c }));
    const plan = planWire(drawn, REQUEST, book);
    const wire = plan.operations.find((o): o is WireOperation => o.process === 'wire');
    if (wire === undefined) throw new Error(plan.problems.map((p) => p.message).join('\n'));
    const offsets = wire.passes.map((p) => p.offsetMm.value);
    const paths = plan.features.map((f) => {
      const list = new wasm.PathsD();
      list.push_back(wasm.MakePathD(chords(f.contour).flatMap((p) => [p.x, p.y])));
      return { list, isOutline: f.role === 'outline' };
    });
    const theirs = (): number => {
      let area = 0;
      for (const offset of offsets) {
        for (const { list, isOutline } of paths) {
          const delta = isOutline ? offset : -offset;
          const out = wasm.InflatePathsD(list, delta, wasm.JoinType.Round, wasm.EndType.Polygon, 2, DECIMALS, CHORD_MM);
          area += Math.abs(wasm.AreaPathsD(out));
          out.delete();
        }
      }
      return area;
    };
    let oursArea = 0;
    for (const offset of offsets) {
      for (const f of plan.features) {
        for (const c of offsetContour(f.contour, -offset)) oursArea += Math.abs(areaMm2(c));
      }
    }
    const theirArea = theirs();
    const difference = Math.abs(oursArea - theirArea) / theirArea;
    if (difference > AREA_SHARE) throw new Error(`${name}: areas differ by ${difference}`);
    const oursMs = medianMs(() => planWire(drawn, REQUEST, book), rounds);
    const theirsMs = medianMs(theirs, rounds);
    for (const { list } of paths) list.delete();
    const entities = contours.reduce((sum, c) => sum + c.segments.length, 0);
    return {
      name: `plan of a ${name} against offsetting it in clipper2-wasm`,
      ours: oursMs,
      theirs: theirsMs,
      ratio: theirsMs / oursMs,
      unit: 'ms',
      input: `${entities} entities, ${contours.length} contours, ${offsets.length} passes; ours plans ${book.wires.length} wires on ${book.wireMachines.length} machines, theirs only offsets`,
      agreement: `areas of the wire's paths differ by ${difference.toExponential(1)} (relative)`,
    };
  });
}
