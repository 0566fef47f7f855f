import { contour, line } from '@gapwright/geometry';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import { largestPassableOffset, tightBlocks } from './compensation.js';
import { planWire } from './plan-wire.js';
import { circle, plainRequest, polygon, rectangle, roundedRectangle } from './testing/drawings.js';

const book = startingBook();

/** A plate with a V-shaped notch from above whose flat bottom is `bottomMm` wide. */
function notched(bottomMm: number) {
  const half = bottomMm / 2;
  return polygon([0, 0], [30, 0], [30, 20], [18, 20], [15 + half, 10], [15 - half, 10], [12, 20], [0, 20]);
}

it('a line between two inside corners must be longer than both corners take', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.05, max: 1, noNaN: true }),
      fc.double({ min: 0.02, max: 0.3, noNaN: true }),
      fc.double({ min: 0.2, max: 1.4, noNaN: true }),
      fc.double({ min: 0.2, max: 1.4, noNaN: true }),
      (length, offset, before, after) => {
        // Two right turns: into the line and out of it.
        const start = { x: -5 * Math.cos(before), y: -5 * Math.sin(before) };
        const end = { x: length + 5 * Math.cos(after), y: -5 * Math.sin(after) };
        const corner = { x: length, y: 0 };
        const path = [line(start, { x: 0, y: 0 }), line({ x: 0, y: 0 }, corner), line(corner, end)];
        const needed = offset * (Math.tan(before / 2) + Math.tan(after / 2));
        fc.pre(Math.abs(length - needed) > 0.003);
        const found = tightBlocks(contour(path, false), offset);
        expect(found.map((b) => b.segment)).toEqual(length > needed ? [] : [1]);
        if (found[0] !== undefined) expect(Math.abs(found[0].neededMm - needed)).toBeLessThan(0.003);
      },
    ),
  );
});

it('outside corners, circles and tangent arcs take nothing', () => {
  expect(tightBlocks(rectangle(0, 0, 0.05, 0.05), 0.2)).toEqual([]);
  expect(tightBlocks(circle(0, 0, 1), 0.2)).toEqual([]);
  expect(tightBlocks(roundedRectangle(0, 0, 2.05, 2.05, 1), 0.2)).toEqual([]);
});

it('finds the largest offset a notch lets through', () => {
  // Both corners of the bottom turn by the angle between the wall (3 - b/2 : 10) and the level.
  const c = notched(0.4);
  const turn = Math.PI / 2 - Math.atan((3 - 0.2) / 10);
  const passes = largestPassableOffset(c, 1);
  expect(Math.abs(passes - 0.4 / (2 * Math.tan(turn / 2)))).toBeLessThan(0.003);
});

it('a wire with no room between two inside corners does not fit, and a thinner one is named', () => {
  const plan = planWire([{ contour: notched(0.2) }], plainRequest(), book);
  const thick = plan.wireOptions.find((o) => o.wireId === 'B25')!;
  expect(thick.fits).toBe(false);
  const [problem] = thick.problems;
  expect(problem?.code).toBe('WIRE-CORNERS-TOO-CLOSE');
  expect(problem?.message).toMatch(/0\.20 mm beside an inside corner at \(15\.00, 10\.00\); the 0\.25 mm wire needs/);
  expect(problem?.message).toMatch(/Use the 0\.1\d mm wire, or agree on a corner radius of R0\.\d\d/);
  const chosen = plan.wireOptions.find((o) => o.marks.includes('chosen'))!;
  expect(['B10', 'B15']).toContain(chosen.wireId);
  expect(plan.operations.length).toBeGreaterThan(0);
});

it('an agreed corner radius rounds what the wire cannot follow', () => {
  const plan = planWire([{ contour: notched(0.1) }], plainRequest({ agreedCornerRadiusMm: 0.25 }), book);
  expect(plan.wireOptions.every((o) => o.fits)).toBe(true);
  expect(plan.problems.map((p) => p.code)).toContain('WIRE-CORNERS-ROUNDED');
  const wire = plan.operations.find((o) => o.process === 'wire')!;
  const radii = wire.steps.flatMap((s) =>
    s.kind === 'cut' ? s.path.flatMap((p) => (p.kind === 'arc' ? [p.radiusMm] : [])) : [],
  );
  expect(radii.length).toBeGreaterThan(0);
  for (const r of radii) expect(Math.abs(r - 0.25)).toBeLessThan(1e-6);
});

it('rounds to the agreed radius only for wires that can cut it', () => {
  const plan = planWire([{ contour: notched(0.1) }], plainRequest({ agreedCornerRadiusMm: 0.1 }), book);
  const thick = plan.wireOptions.find((o) => o.wireId === 'B30')!;
  expect(thick.fits).toBe(false);
  expect(thick.problems[0]?.message).toMatch(/agree on a corner radius of R0\.[12]\d/i);
  for (const operation of plan.operations) {
    if (operation.process !== 'wire') continue;
    expect(operation.passes[0]!.offsetMm.value).toBeLessThanOrEqual(0.1 + 1e-6);
  }
});

it('programs no arc so short that rounded text would turn it', () => {
  // The walls of the notch break by a thousandth of a radian, which a radius of 0.25 mm rounds by a quarter of a micrometre.
  const bent = polygon(
    [0, 0],
    [30, 0],
    [30, 20],
    [17, 20],
    [16, 15],
    [15.05, 10.255],
    [14.95, 10.25],
    [14, 15],
    [13, 20],
    [0, 20],
  );
  const plan = planWire([{ contour: bent }], plainRequest({ agreedCornerRadiusMm: 0.25 }), book);
  const wire = plan.operations.find((o) => o.process === 'wire')!;
  const arcs = wire.steps.flatMap((s) =>
    s.kind === 'cut' && s.pass === 1 ? s.path.filter((p) => p.kind === 'arc') : [],
  );
  expect(arcs.length).toBeGreaterThan(0);
  for (const a of arcs) if (a.kind === 'arc') expect(a.radiusMm * Math.abs(a.sweepRad)).toBeGreaterThan(0.01);
});
