import { type Contour, line } from '@gapwright/geometry';
import { expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import type { Plan, WireRequest } from './plan.js';
import { planWire } from './plan-wire.js';
import { plainRequest } from './testing/drawings.js';

const book = startingBook();

function path(...points: readonly (readonly [x: number, y: number])[]): Contour {
  const at = points.map(([x, y]) => ({ x, y }));
  return { segments: at.slice(1).map((p, i) => line(at[i]!, p)), isClosed: false };
}

function plan(contours: readonly Contour[], over: Partial<WireRequest> = {}): Plan {
  return planWire(
    contours.map((contour) => ({ contour })),
    plainRequest(over),
    book,
  );
}

/** A frame drawn in two halves that miss each other by `gapMm` at one corner and meet nowhere else. */
const halves = (gapMm: number): Contour[] => [path([0, 20], [0, 0], [30, 0]), path([30, gapMm], [30, 20], [2, 20])];

it('says first that a contour does not close, with the gap, both ends and the cures, and nothing of wires', () => {
  const p = plan(halves(0.05));
  expect(p.problems[0]?.code).toBe('PLAN-CONTOUR-OPEN');
  expect(p.problems[0]?.message).toBe(
    '2 contours do not close, the first from (0.000, 20.000) to (30.000, 0.000); a gap of 0.050 mm lies between (30.000, 0.000) and (30.000, 0.050). Join the ends with --join 0.06, close the contour in the drawing, or state the part side (--part-side left or right) if an open cut is meant.',
  );
  expect(p.problems.filter((q) => q.code.startsWith('WIRE'))).toEqual([]);
  expect(p.wireOptions).toEqual([]);
  expect(p.operations).toEqual([]);
});

it('names how far the ends of a single contour are apart, and where more than two ends meet', () => {
  expect(plan([path([0, 0], [30, 0], [30, 40])]).problems[0]?.message).toMatch(/its ends are 50\.00 mm apart/);
  const branching = [path([0, 0], [10, 0]), path([10, 0], [20, 5]), path([10, 0], [20, -5])];
  expect(plan(branching).problems[0]?.message).toMatch(/more than two ends meet at \(10\.000, 0\.000\)/);
});

it('takes an open contour for a cut when the part side is stated', () => {
  const p = plan([path([0, 0], [30, 0], [30, 40])], { openPartSide: 'left' });
  expect(p.problems.filter((q) => q.severity === 'stop')).toEqual([]);
  expect(p.operations.length).toBeGreaterThan(0);
});
