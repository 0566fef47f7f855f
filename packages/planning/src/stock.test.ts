import { describe, expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import type { Plan, WireRequest } from './plan.js';
import { planWire } from './plan-wire.js';
import { circle, plainRequest } from './testing/drawings.js';

const book = startingBook();

describe('work without room for clamps', () => {
  const blank = [
    { contour: circle(0, 0, 20), layer: 'blank' },
    { contour: circle(0, 0, 8), layer: 'cut' },
  ];
  const planned = (drawn: typeof blank, over: Partial<WireRequest>): Plan =>
    planWire(drawn, plainRequest({ cutLayers: ['cut'], ...over }), book);
  const setUpOf = (p: Plan): string => p.operations.find((o) => o.process === 'wire')!.touches[0]!.says;

  it('is held in a fixture when it is a finished blank, which is no reason to warn', () => {
    const p = planned(blank, {});
    expect(p.problems.find((q) => q.code === 'WIRE-HELD-IN-FIXTURE')!.severity).toBe('info');
    expect(p.problems.filter((q) => q.severity !== 'info')).toEqual([]);
    expect(setUpOf(p)).toMatch(/^Hold the work in a fixture/);
  });

  it('is worth a warning when the plate was stated', () => {
    const p = planned(blank.slice(1), { plate: { minX: -10, minY: -10, maxX: 10, maxY: 10 } });
    expect(p.problems.find((q) => q.code === 'WIRE-CLAMPS-NO-ROOM')!.severity).toBe('warn');
    expect(setUpOf(p)).toMatch(/^Hold the work in a fixture/);
  });

  it('needs no word when the fixture is stated', () => {
    const fixture = { id: 'K1', label: 'fixture', box: { minX: -25, minY: -5, maxX: -18, maxY: 5 } };
    const p = planned(blank, { keepOuts: [fixture] });
    expect(p.problems.map((q) => q.code)).not.toContain('WIRE-HELD-IN-FIXTURE');
    expect(setUpOf(p)).toMatch(/^Clamp and align/);
  });
});
