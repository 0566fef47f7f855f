import { type Figure, isFigure } from '@gapwright/base';
import type { Contour } from '@gapwright/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import { findFeatures } from './features.js';
import type { Plan, WireRequest } from './plan.js';
import { planWire } from './plan-wire.js';
import { prepareJob } from './prepare-job.js';
import { circle, plainRequest, polygon, roundedRectangle } from './testing/drawings.js';
import { checkSteps } from './testing/step-checker.js';
import { chooseWire } from './wire-choice.js';

const book = startingBook();
/** Sums of the same numbers in another order may differ by this share. */
const ROUNDING = 1e-9;

function plan(contours: readonly Contour[], request: WireRequest): Plan {
  return planWire(
    contours.map((contour) => ({ contour })),
    request,
    book,
  );
}

function cheapest(p: Plan): number {
  const costs = p.wireOptions.flatMap((o) => (o.comparisonCost === null ? [] : [o.comparisonCost.value]));
  return costs.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...costs);
}

/** A plate with rounded corners, a window and up to six holes that do not touch. */
const drawings = fc
  .record({
    width: fc.double({ min: 20, max: 120, noNaN: true }),
    height: fc.double({ min: 20, max: 90, noNaN: true }),
    corner: fc.double({ min: 0.5, max: 3, noNaN: true }),
    windowCorner: fc.double({ min: 0.08, max: 1.2, noNaN: true }),
    holes: fc.array(fc.double({ min: 0.5, max: 2, noNaN: true }), { maxLength: 6 }),
    isNotched: fc.boolean(),
  })
  .map(({ width, height, corner, windowCorner, holes, isNotched }): Contour[] => {
    const [w, h] = [width, height];
    const outline = isNotched
      ? polygon([0, 0], [w, 0], [w, h], [w * 0.6, h], [w * 0.6, h * 0.85], [w * 0.4, h * 0.85], [w * 0.4, h], [0, h])
      : roundedRectangle(0, 0, w, h, corner);
    const window = roundedRectangle(w * 0.1, h * 0.4, w * 0.8, h * 0.3, windowCorner);
    const pitch = (w * 0.8) / 6;
    const row = holes.map((r, i) => circle(w * 0.1 + pitch * (i + 0.5), h * 0.2, Math.min(r, pitch * 0.4, h * 0.1)));
    return [outline, window, ...row];
  });

const requests = fc.record({
  materialId: fc.constantFrom('D2', 'Ti-6Al-4V', 'WC-10Co', '6061'),
  heightMm: fc.double({ min: 2, max: 80, noNaN: true }),
  raUm: fc.constantFrom(0.25, 0.4, 0.8, 1.6, 3.2),
  toleranceMm: fc.constantFrom(0.004, 0.006, 0.01, 0.02, 0.05),
  quantity: fc.integer({ min: 1, max: 40 }),
});

describe('relaxing what is asked never costs more', () => {
  const relaxed: [string, (r: WireRequest, by: number) => [WireRequest, WireRequest]][] = [
    ['the tolerance', (r, by) => [r, { ...r, toleranceMm: r.toleranceMm * by }]],
    ['the roughness', (r, by) => [r, { ...r, raUm: r.raUm * by }]],
    [
      'the recast',
      (r, by) => [
        { ...r, recastMaxUm: 6 },
        { ...r, recastMaxUm: 6 * by },
      ],
    ],
    [
      'the agreed corner radius',
      (r, by) => [
        { ...r, agreedCornerRadiusMm: 0.15 },
        { ...r, agreedCornerRadiusMm: 0.15 * by },
      ],
    ],
  ];
  for (const [what, pair] of relaxed) {
    it(what, () => {
      fc.assert(
        fc.property(drawings, requests, fc.double({ min: 1, max: 3, noNaN: true }), (drawn, request, by) => {
          const [strict, easy] = pair(request, by);
          const before = cheapest(plan(drawn, strict));
          const after = cheapest(plan(drawn, easy));
          expect(after).toBeLessThanOrEqual(before * (1 + ROUNDING));
        }),
        { numRuns: 25 },
      );
    });
  }
});

describe('quantity', () => {
  const ordered = fc.record({
    materialId: fc.constantFrom('D2', 'Ti-6Al-4V'),
    heightMm: fc.double({ min: 2, max: 40, noNaN: true }),
    raUm: fc.constantFrom(0.4, 1.6),
    toleranceMm: fc.constantFrom(0.006, 0.02),
  });

  it('more pieces never cost less in all', () => {
    fc.assert(
      fc.property(drawings, ordered, fc.integer({ min: 1, max: 30 }), (drawn, over, quantity) => {
        const costs = [0, 1, 2].map((more) =>
          cheapest(plan(drawn, plainRequest({ ...over, quantity: quantity + more }))),
        );
        expect(costs[1]).toBeGreaterThanOrEqual(costs[0]! * (1 - ROUNDING));
        expect(costs[2]).toBeGreaterThanOrEqual(costs[1]! * (1 - ROUNDING));
      }),
      { numRuns: 12 },
    );
  });

  it('several full stacks cost no more per piece than one', () => {
    const times = fc.integer({ min: 2, max: 5 });
    fc.assert(
      fc.property(drawings, ordered, fc.integer({ min: 1, max: 12 }), times, (drawn, over, stack, k) => {
        const one = cheapest(plan(drawn, plainRequest({ ...over, quantity: stack })));
        const many = cheapest(plan(drawn, plainRequest({ ...over, quantity: k * stack })));
        if (Number.isFinite(one)) expect(many / k).toBeLessThanOrEqual(one * (1 + ROUNDING));
      }),
      { numRuns: 12 },
    );
  });
});

it('every plan has sound steps, lengths that are those of the steps, and figures inside their intervals', () => {
  let planned = 0;
  fc.assert(
    fc.property(drawings, requests, (drawn, request) => {
      const p = plan(drawn, request);
      const stops = p.problems.filter((q) => q.severity === 'stop');
      expect(p.operations.length === 0).toBe(stops.length > 0);
      expect(p.totals === null).toBe(stops.length > 0);
      for (const figure of figuresIn(p)) {
        expect(Number.isFinite(figure.value)).toBe(true);
        expect(figure.low).toBeLessThanOrEqual(figure.value);
        expect(figure.high).toBeGreaterThanOrEqual(figure.value);
      }
      for (const operation of p.operations) {
        if (operation.process !== 'wire') continue;
        planned++;
        const check = checkSteps(operation);
        expect(check.faults).toEqual([]);
        expect(check.threadings).toBe(operation.threadings);
        for (const pass of operation.passes) {
          expect(check.passMm.get(pass.pass)).toBeCloseTo(pass.pathMm.value, 6);
          expect(pass.offsetMm.value).toBeGreaterThan(operation.wireDiameterMm / 2);
        }
        for (const { id, lengthMm } of p.features) {
          // Rounded inside corners shorten a contour a little.
          for (const { pass } of operation.passes) {
            expect(check.contourMm.get(`${id}/${pass}`)).toBeGreaterThan(lengthMm - 1);
          }
        }
        const offsets = operation.passes.map((q) => q.offsetMm.value);
        expect([...offsets].sort((a, b) => b - a)).toEqual(offsets);
      }
    }),
    { numRuns: 25 },
  );
  expect(planned).toBeGreaterThan(10);
});

it('the search and the figures agree on the cost', () => {
  fc.assert(
    fc.property(drawings, requests, (drawn, over) => {
      const request = plainRequest(over);
      const found = findFeatures(
        drawn.map((contour) => ({ contour })),
        request,
      );
      const material = book.materials.find((m) => m.id === request.materialId)!;
      const chosen = chooseWire(prepareJob(found, request, material, book, 1)).chosen;
      if (chosen === null) return;
      const { comparisonCost } = chosen;
      expect(chosen.candidate.cost / comparisonCost.value).toBeCloseTo(1, 9);
    }),
    { numRuns: 25 },
  );
});

function figuresIn(value: unknown, out: Figure[] = []): Figure[] {
  if (isFigure(value)) out.push(value);
  else if (typeof value === 'object' && value !== null) for (const inner of Object.values(value)) figuresIn(inner, out);
  return out;
}

it('plans polygons however they are turned and wound, the same', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 5 }), fc.boolean(), (start, isReversed) => {
      const points: [number, number][] = [
        [0, 0],
        [50, 0],
        [50, 30],
        [20, 30],
        [20, 45],
        [0, 45],
      ];
      const turned = [...points.slice(start), ...points.slice(0, start)];
      const one = plan([polygon(...points)], plainRequest());
      const two = plan([polygon(...(isReversed ? turned.reverse() : turned))], plainRequest());
      expect(cheapest(two)).toBeCloseTo(cheapest(one), 6);
      expect(two.features[0]!.sharpInsideCorners).toEqual([{ x: 20, y: 30 }]);
    }),
    { numRuns: 12 },
  );
});
