import { expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import { planWire } from './plan-wire.js';
import { plainRequest, rectangle } from './testing/drawings.js';

const book = startingBook();

it('refuses a part too small for a tab and says what to do', () => {
  const plan = planWire([{ contour: rectangle(2, 3, 0.3, 0.3) }], plainRequest(), book);
  expect(plan.operations).toEqual([]);
  const [stop, ...others] = plan.problems.filter((p) => p.severity === 'stop');
  expect(others).toEqual([]);
  expect(stop?.code).toBe('WIRE-PART-TOO-SMALL');
  expect(stop?.message).toMatch(
    /^F1 at \(2\.00, 3\.00\) is a part of 0\.30 x 0\.30 mm with a contour of 1\.20 mm: too small/,
  );
});

it('begins and ends no path at a corner of a small part', () => {
  for (const size of [1.1, 1.5, 2, 2.5, 3, 3.5, 4]) {
    const plan = planWire([{ contour: rectangle(0, 0, size, size) }], plainRequest(), book);
    const wire = plan.operations.find((o) => o.process === 'wire')!;
    const isAtCorner = ({ x, y }: { x: number; y: number }): boolean =>
      Math.min(x, size - x) < 0.019 && Math.min(y, size - y) < 0.019;
    for (const step of wire.steps) {
      if (step.kind !== 'cut') continue;
      expect(isAtCorner(step.path[0]!.from)).toBe(false);
      expect(isAtCorner(step.path.at(-1)!.to)).toBe(false);
    }
  }
});
