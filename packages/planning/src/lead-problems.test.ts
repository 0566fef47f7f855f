import { line } from '@gapwright/geometry';
import { expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import { leadProblems } from './lead-problems.js';
import { planWire } from './plan-wire.js';
import { plainRequest, rectangle } from './testing/drawings.js';

const book = startingBook();

/** A plate of 40 by 30 with a straight open cut beside its lower edge, `awayMm` below it from `fromX` to `toX`. */
function besideLowerEdge(awayMm: number, fromX: number, toX: number) {
  const cut = { segments: [line({ x: fromX, y: -awayMm }, { x: toX, y: -awayMm })], isClosed: false };
  return [{ contour: rectangle(0, 0, 40, 30) }, { contour: cut }];
}

it('leaves an outline where no lead-out burns into an open cut beside it', () => {
  for (let toX = 18; toX < 20; toX += 0.2) {
    const drawn = besideLowerEdge(0.4, toX - 1.5, toX);
    const plan = planWire(drawn, plainRequest({ openPartSide: 'left' }), book);
    expect(plan.problems.filter((p) => p.severity === 'stop')).toEqual([]);
    expect(plan.operations.length).toBeGreaterThan(0);
  }
});

it('finds a lead-out that burns into an open cut', () => {
  const plan = planWire([{ contour: rectangle(0, 0, 40, 30) }], plainRequest(), book);
  const wire = plan.operations.find((o) => o.process === 'wire')!;
  expect(leadProblems(wire, plan.features, 0.01)).toEqual([]);
  // A line across the end of the first lead-out.
  const { to } = wire.steps.find((s) => s.kind === 'cut')!.leadOut.at(-1)!;
  const across = { segments: [line({ x: to.x - 1, y: to.y }, { x: to.x + 1, y: to.y })], isClosed: false };
  const features = [...plan.features, { ...plan.features[0]!, id: 'F2', role: 'open' as const, contour: across }];
  const [problem] = leadProblems(wire, features, 0.01);
  expect(problem?.code).toBe('WIRE-LEAD-CUTS');
  expect(problem?.message).toMatch(/the cut of F1 burns 0\.\d+ mm into F2/);
});
