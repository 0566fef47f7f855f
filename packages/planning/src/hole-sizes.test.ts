import type { Contour } from '@gapwright/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import type { Plan, WireOperation, WireRequest } from './plan.js';
import { planWire } from './plan-wire.js';
import { circle, plainRequest, rectangle, roundedRectangle } from './testing/drawings.js';

const book = startingBook();

function plan(contours: Contour[], over: Partial<WireRequest> = {}): Plan {
  return planWire(
    contours.map((contour) => ({ contour })),
    plainRequest(over),
    book,
  );
}

function wireOf(p: Plan): WireOperation {
  const found = p.operations.find((o) => o.process === 'wire');
  expect(found, p.problems.map((q) => q.message).join('\n')).toBeDefined();
  return found as WireOperation;
}

function drillOf(p: Plan) {
  const found = p.operations.find((o) => o.process === 'drill')!;
  return { ...found, sizes: found.process === 'drill' ? found.holes.map((h) => h.diameterMm) : [] };
}

const outline = rectangle(0, 0, 80, 50);
const wide = [10, 25, 40, 55].map((x) => circle(x, 35, 5));
/** A slot with room for a small hole only. */
const slot = (y: number): Contour => roundedRectangle(10, y, 40, 1.4, 0.5);

describe('the size of start holes', () => {
  it.each([
    ['B25', 1],
    ['B30', 1.2],
    ['B10', 1],
  ])('of wire %s is %d mm where there is room', (wireId, sizeMm) => {
    const p = plan([outline, ...wide], { wireId });
    expect(new Set(drillOf(p).sizes)).toEqual(new Set([sizeMm]));
    expect(p.problems.map((q) => q.code)).not.toContain('WIRE-HOLE-NEAR');
  });

  it('grows where only wider holes can be drilled so deep', () => {
    expect(new Set(drillOf(plan([outline, ...wide], { wireId: 'B25', heightMm: 115 })).sizes)).toEqual(new Set([1.2]));
  });

  it('is that of the narrow place for it alone, with a change of tube', () => {
    const p = plan([outline, ...wide, slot(10)], { wireId: 'B25' });
    const drill = drillOf(p);
    expect(drill.sizes).toEqual([1, 1, 1, 1, 1, 0.6]);
    expect(drill.title).toContain('5 start holes of 1 mm and 1 of 0.6 mm');
    expect(drill.touches.map((t) => t.min.value)).toEqual([
      book.drillMachines.find((m) => m.id === drill.machineId)!.setUpMin.value,
      book.rates.tubeChangeMin.value,
    ]);
    const sum = drill.touches.reduce((s, t) => s + t.min.value, 0);
    expect(drill.attendedMin.value).toBeCloseTo(sum, 9);
    expect(p.problems.find((q) => q.code === 'WIRE-HOLE-NEAR')!.message).toContain(': F6; the nearest leaves 0.40 mm');
  });

  it('is one for all when most places are narrow', () => {
    const p = plan([outline, wide[0]!, slot(10), slot(15), slot(20), slot(25)], { wireId: 'B25' });
    expect(new Set(drillOf(p).sizes)).toEqual(new Set([0.6]));
    expect(drillOf(p).touches).toHaveLength(1);
  });
});

it('start holes lie in the plate, outside clamps and apart from each other', () => {
  const drawings = fc.record({
    width: fc.double({ min: 15, max: 60, noNaN: true }),
    gap: fc.double({ min: 1.5, max: 8, noNaN: true }),
    copies: fc.integer({ min: 1, max: 4 }),
    rim: fc.double({ min: 1, max: 12, noNaN: true }),
    clampAt: fc.double({ min: 0, max: 1, noNaN: true }),
  });
  let seen = 0;
  fc.assert(
    fc.property(drawings, fc.constantFrom('B10', 'B25'), ({ width, gap, copies, rim, clampAt }, wireId) => {
      const pitch = width + gap;
      const drawn = Array.from({ length: copies }, (_, i) => [
        rectangle(i * pitch, 0, width, 20),
        circle(i * pitch + width / 2, 10, 4),
      ]).flat();
      const plate = { minX: -rim, minY: -rim, maxX: copies * pitch + rim, maxY: 20 + rim };
      const x = plate.minX + clampAt * (plate.maxX - plate.minX);
      const clamp = { id: 'K1', label: 'clamp', box: { minX: x, maxX: x + 8, minY: plate.minY - 5, maxY: -1 } };
      const p = plan(drawn, { wireId, plate, keepOuts: [clamp] });
      if (p.operations.length === 0) return;
      const wire = wireOf(p);
      const holes = wire.startHoles.filter((h) => !h.fromEdge);
      for (const [i, { at, diameterMm }] of holes.entries()) {
        seen++;
        const r = diameterMm / 2;
        expect(Math.min(at.x - plate.minX, plate.maxX - at.x)).toBeGreaterThan(r);
        expect(Math.min(at.y - plate.minY, plate.maxY - at.y)).toBeGreaterThan(r);
        const { box } = clamp;
        const isInClamp = at.x > box.minX - r && at.x < box.maxX + r && at.y > box.minY - r && at.y < box.maxY + r;
        expect(isInClamp).toBe(false);
        for (const other of holes.slice(i + 1)) {
          const dx = at.x - other.at.x;
          const dy = at.y - other.at.y;
          expect(Math.sqrt(dx * dx + dy * dy)).toBeGreaterThan((diameterMm + other.diameterMm) / 2 + 0.5 - 1e-9);
        }
      }
    }),
    { numRuns: 40 },
  );
  expect(seen).toBeGreaterThan(40);
});

it('does not ask for a thinner wire where none is left', () => {
  const plan = planWire(
    [rectangle(0, 0, 40, 30), circle(20, 15, 0.2)].map((contour) => ({ contour })),
    plainRequest(),
    book,
  );
  const thinnest = book.wires.reduce((a, b) => (b.diameterMm < a.diameterMm ? b : a));
  for (const { wireId, problems } of plan.wireOptions) {
    const stop = problems.find((p) => p.code === 'WIRE-START-HOLE')!;
    expect(stop.message.includes('Use a thinner wire')).toBe(wireId !== thinnest.id);
    expect(stop.message.includes('sink the opening')).toBe(wireId === thinnest.id);
  }
});
