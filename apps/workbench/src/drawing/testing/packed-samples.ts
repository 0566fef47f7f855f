import type { PackedPaths, Scene } from '@gapwright/job';
import { STRIDE } from '../segments.js';

/** One packed segment of a test's path. */
export type Sample = readonly number[];

export const lineSample = (fx: number, fy: number, tx: number, ty: number): Sample => [fx, fy, tx, ty, 0, 0, 0, 0];

export const arcSample = (cx: number, cy: number, r: number, startRad: number, sweepRad: number): Sample => [
  cx + r * Math.cos(startRad),
  cy + r * Math.sin(startRad),
  cx + r * Math.cos(startRad + sweepRad),
  cy + r * Math.sin(startRad + sweepRad),
  cx,
  cy,
  r,
  sweepRad,
];

/** Paths of segments, packed. */
export function packed(...paths: readonly (readonly Sample[])[]): PackedPaths {
  const starts = [0];
  for (const path of paths) starts.push(starts[starts.length - 1]! + path.length);
  const values = Float64Array.from(paths.flat(2));
  if (values.length !== starts[starts.length - 1]! * STRIDE) throw new Error('a sample has the wrong length');
  return { values, starts: Uint32Array.from(starts), closed: new Uint8Array(paths.length) };
}

export function sceneOf(part: PackedPaths, names: readonly string[], rest: Partial<Scene> = {}): Scene {
  return {
    boxMm: { minX: 0, minY: 0, maxX: 10, maxY: 10 },
    layers: [{ kind: 'part', paths: part, names }],
    marks: [],
    bands: [],
    walks: [],
    ...rest,
  };
}
