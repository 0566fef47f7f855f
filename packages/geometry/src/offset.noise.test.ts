import { seededRandom } from '@gapwright/base';
import { describe, expect, it } from 'vitest';
import { areaMm2, type Contour, contour, lengthMm } from './contour.js';
import { offsetContour } from './offset.js';
import type { Point } from './point.js';
import type { Segment } from './segment.js';
import { sampleContour } from './testing/sample-contours.js';

const COUNT = Number(process.env.OFFSET_SAMPLES ?? 300);
const SEED = Number(process.env.OFFSET_SEED ?? 40_000);

/** The contour as a drawing program writes it with few decimals: ends, centres and radii rounded on their own. */
function rounded(c: Contour, stepMm: number): Contour {
  const round = (v: number): number => Math.round(v / stepMm) * stepMm;
  const at = (p: Point): Point => ({ x: round(p.x), y: round(p.y) });
  const segments = c.segments.map((s): Segment => {
    if (s.kind === 'line') return { kind: 'line', from: at(s.from), to: at(s.to) };
    return { ...s, from: at(s.from), to: at(s.to), centre: at(s.centre), radiusMm: round(s.radiusMm) };
  });
  return contour(segments, c.isClosed);
}

describe.each([1e-4, 1e-5, 1e-6])('offsets of contours drawn to %d mm', (stepMm) => {
  it('differ from those of the exact contour by no more than the rounding explains', () => {
    for (let i = 0; i < COUNT; i++) {
      const random = seededRandom(SEED + i);
      const { contour: exact, name } = sampleContour(random);
      const coarse = rounded(exact, stepMm);
      const distance = (random.below(2) === 0 ? 1 : -1) * 0.05 * 100 ** random.uniform();
      const tell = `seed ${SEED + i}, ${name}, distance ${distance}`;
      const outs = offsetContour(coarse, distance);
      const truth = offsetContour(exact, distance);
      for (const out of outs) expect(out.isClosed, tell).toBe(true);
      const sum = (list: readonly Contour[]): number => list.reduce((total, o) => total + areaMm2(o), 0);
      const edge = lengthMm(exact) + truth.reduce((total, o) => total + lengthMm(o), 0);
      const error = Math.abs(sum(outs) - sum(truth));
      // Each curve moves by at most a few rounding steps.
      expect(error, `${tell}: ${sum(outs)} beside ${sum(truth)}`).toBeLessThanOrEqual(4 * stepMm * edge);
    }
  });
});
