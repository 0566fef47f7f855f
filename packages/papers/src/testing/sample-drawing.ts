import { arcPieces, type Contour, contour, line, type Point, type Segment } from '@gapwright/geometry';
import type { Drawing } from '../drawing/drawing.js';

/** Ring gear-like plate around (0, 0): 20 teeth, a bore with keyway, a round-ended slot. Made up for tests. */
const TEETH = 20;
const ROOT_MM = 24;
const TIP_MM = 28;
const BORE_MM = 8;

const polar = (r: number, a: number): Point => ({ x: r * Math.cos(a), y: r * Math.sin(a) });

/** Gear outline moved outwards by `out` mm, counter-clockwise, starting at the right. */
function gear(out: number): Segment[] {
  const segments: Segment[] = [];
  const pitch = (2 * Math.PI) / TEETH;
  // Root land, flank, tip land, flank, as shares of the pitch; moving outwards widens the tooth.
  const widen = out / ROOT_MM;
  for (let i = 0; i < TEETH; i++) {
    const a0 = i * pitch - 0.16 * pitch + widen;
    const a1 = i * pitch + 0.16 * pitch - widen;
    const b0 = i * pitch + 0.36 * pitch - widen;
    const b1 = i * pitch + 0.64 * pitch + widen;
    const c0 = (i + 1) * pitch - 0.16 * pitch + widen;
    const root = arcPieces({ x: 0, y: 0 }, ROOT_MM + out, a0, a1 - a0);
    const tip = arcPieces({ x: 0, y: 0 }, TIP_MM + out, b0, b1 - b0);
    segments.push(...root, line(polar(ROOT_MM + out, a1), polar(TIP_MM + out, b0)), ...tip);
    segments.push(line(polar(TIP_MM + out, b1), polar(ROOT_MM + out, c0)));
  }
  return segments;
}

/** Bore with a keyway at the top, moved inwards by `d` mm, clockwise from the left of the keyway. */
function bore(d: number): Segment[] {
  const r = BORE_MM - d;
  const w = 2 - d;
  const top = 10.5 - d;
  const y = Math.sqrt(r * r - w * w);
  const from = Math.atan2(y, w);
  const to = Math.atan2(y, -w) - 2 * Math.PI;
  return [
    line({ x: -w, y }, { x: -w, y: top }),
    line({ x: -w, y: top }, { x: w, y: top }),
    line({ x: w, y: top }, { x: w, y }),
    ...arcPieces({ x: 0, y: 0 }, r, from, to - from),
  ];
}

/** Round-ended slot below the bore, moved inwards by `d` mm, clockwise. */
function slot(d: number): Segment[] {
  const r = 2.5 - d;
  const left = { x: -6, y: -15 };
  const right = { x: 6, y: -15 };
  return [
    line({ x: left.x, y: left.y + r }, { x: right.x, y: right.y + r }),
    ...arcPieces(right, r, Math.PI / 2, -Math.PI),
    line({ x: right.x, y: right.y - r }, { x: left.x, y: left.y - r }),
    ...arcPieces(left, r, -Math.PI / 2, -Math.PI),
  ];
}

const closed = (segments: Segment[]): Contour => contour(segments, true);

/** Offsets of the sample's four passes, mm. */
export const SAMPLE_OFFSETS_MM = [0.218, 0.158, 0.142, 0.137] as const;

const plateEdge = { minX: -45, minY: -38, maxX: 45, maxY: 38 };

export const SAMPLE_PLATE = plateEdge;

export const SAMPLE_START_HOLES = [
  { id: 'H1', at: { x: 0, y: 0 }, diameterMm: 3, features: ['F2'], fromEdge: false },
  { id: 'H2', at: { x: 0, y: -15 }, diameterMm: 2, features: ['F3'], fromEdge: false },
  { id: 'H3', at: { x: 33, y: 0 }, diameterMm: 3, features: ['F1'], fromEdge: false },
] as const;

export const SAMPLE_DRAWING: Drawing = {
  contours: [
    { feature: 'F1', role: 'outline', contour: closed(gear(0)) },
    { feature: 'F2', role: 'opening', contour: closed(bore(0)) },
    { feature: 'F3', role: 'opening', contour: closed(slot(0)) },
  ],
  passes: SAMPLE_OFFSETS_MM.flatMap((d, i) => [
    { feature: 'F1', pass: i + 1, path: gear(d) },
    { feature: 'F2', pass: i + 1, path: bore(d) },
    { feature: 'F3', pass: i + 1, path: slot(d) },
  ]),
  leadIns: [
    { feature: 'F2', path: [line({ x: 0, y: 0 }, { x: -BORE_MM, y: 0 })] },
    { feature: 'F3', path: [line({ x: 0, y: -15 }, { x: 0, y: -12.5 })] },
    { feature: 'F1', path: [line({ x: 33, y: 0 }, { x: ROOT_MM, y: 0 })] },
  ],
  startHoles: SAMPLE_START_HOLES,
  tabs: [
    { feature: 'F1', from: polar(ROOT_MM, -0.04), to: polar(ROOT_MM, -0.004) },
    { feature: 'F2', from: polar(BORE_MM, 3.6), to: polar(BORE_MM, 3.25) },
  ],
  keepOuts: [
    { id: 'C1', label: 'clamp left', box: { minX: -45, minY: -12, maxX: -35, maxY: 12 } },
    { id: 'C2', label: 'clamp right', box: { minX: 39, minY: -12, maxX: 45, maxY: 12 } },
    { id: 'K1', label: 'flushing cup', box: { minX: -45, minY: 30, maxX: -25, maxY: 38 } },
  ],
  plate: plateEdge,
  datum: { x: 0, y: 0 },
};
