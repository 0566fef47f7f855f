import Flatbush from 'flatbush';
import { describe, expect, it } from 'vitest';
import { fillPickIndex, PickIndex } from './pick-index.js';
import { arcSample, lineSample, packed, sceneOf } from './testing/packed-samples.js';

const part = packed(
  [lineSample(0, 0, 10, 0), lineSample(10, 0, 10, 10)],
  [arcSample(5, 5, 2, 0, Math.PI), arcSample(5, 5, 2, Math.PI, Math.PI)],
);
const scene = sceneOf(part, ['F1', 'F2'], {
  layers: [
    { kind: 'part', paths: part, names: ['F1', 'F2'] },
    { kind: 'pass', pass: 1, operation: 1, paths: packed([lineSample(0, 0.15, 10, 0.15)]), names: ['F1'] },
  ],
});
const index = new PickIndex(scene, Flatbush.from(fillPickIndex(Flatbush, scene)!));
const all = (): boolean => true;

describe('pick index', () => {
  it('finds the path under the cursor with the point on it', () => {
    expect(index.nearest({ x: 4, y: -0.2 }, 0.5, 10, all)).toMatchObject({
      layer: 0,
      path: 0,
      segment: 0,
      point: { x: 4, y: 0 },
    });
    const hit = index.nearest({ x: 5, y: 7.1 }, 0.5, 10, all)!;
    expect([hit.layer, hit.path]).toEqual([0, 1]);
    expect(hit.point.y).toBeCloseTo(7, 12);
  });

  it('is not misled by boxes: the middle of an arc is not on it', () => {
    expect(index.nearest({ x: 5, y: 5.5 }, 0.5, 10, all)).toBeNull();
  });

  it('prefers the part when a pass is hardly nearer, and passes over hidden layers', () => {
    expect(index.nearest({ x: 4, y: 0.1 }, 0.5, 10, all)?.layer).toBe(0);
    expect(index.nearest({ x: 4, y: 0.1 }, 0.5, 1000, all)?.layer).toBe(1);
    expect(index.nearest({ x: 4, y: 0.1 }, 0.5, 1000, (l) => l.kind === 'part')?.layer).toBe(0);
  });

  it('comes near arcs from their centre, for measuring', () => {
    const seen: number[] = [];
    index.each({ x: 5, y: 5 }, 0.1, all, (layer, segment) => seen.push(layer * 100 + segment));
    expect(seen.sort()).toEqual([2, 3]);
  });

  it('has nothing for an empty drawing', () => {
    expect(fillPickIndex(Flatbush, sceneOf(packed(), []))).toBeNull();
  });
});
