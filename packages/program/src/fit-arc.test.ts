import { type ArcSegment, distanceMm, type Point } from '@gapwright/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitArc } from './fit-arc.js';

const GRID_MM = 0.001;
const FAR_MM = 1e6;

function arcAround(centre: Point, radiusMm: number, startRad: number, sweepRad: number): ArcSegment {
  const at = (rad: number): Point => ({
    x: centre.x + radiusMm * Math.cos(rad),
    y: centre.y + radiusMm * Math.sin(rad),
  });
  return { kind: 'arc', from: at(startRad), to: at(startRad + sweepRad), centre, radiusMm, sweepRad };
}

const counts = (p: Point): Point => ({ x: Math.round(p.x / GRID_MM), y: Math.round(p.y / GRID_MM) });

const anyArc = fc
  .record({
    x: fc.double({ min: -300, max: 300, noNaN: true }),
    y: fc.double({ min: -300, max: 300, noNaN: true }),
    radius: fc.oneof(
      fc.double({ min: 0.004, max: 0.1, noNaN: true }),
      fc.double({ min: 0.1, max: 100, noNaN: true }),
      fc.double({ min: 100, max: 20000, noNaN: true }),
    ),
    start: fc.double({ min: -4, max: 4, noNaN: true }),
    sweep: fc.oneof(fc.constant(Math.PI), fc.double({ min: 0.001, max: Math.PI, noNaN: true })),
    sign: fc.constantFrom(1, -1),
  })
  .map((a) => arcAround({ x: a.x, y: a.y }, a.radius, a.start, a.sign * a.sweep));

describe('fitting an arc to the grid', () => {
  it('makes both radii agree within one count and keeps the middle within one count', () => {
    let fitted = 0;
    fc.assert(
      fc.property(anyArc, (arc) => {
        const from = counts(arc.from);
        const to = counts(arc.to);
        if (from.x === to.x && from.y === to.y) return;
        const fit = fitArc(arc, from, to, GRID_MM, FAR_MM);
        if (fit === 'line') {
          // Allowed only when the arc hardly bulges.
          expect(arc.radiusMm * (1 - Math.cos(arc.sweepRad / 2))).toBeLessThan(2 * GRID_MM);
          return;
        }
        if ('deviationCounts' in fit) throw new Error(`no fit, ${fit.deviationCounts} counts`);
        fitted++;
        expect(fit.clockwise).toBe(arc.sweepRad < 0);
        expect(Number.isInteger(fit.centre.x) && Number.isInteger(fit.centre.y)).toBe(true);
        const startRadius = distanceMm(fit.centre, from);
        const endRadius = distanceMm(fit.centre, to);
        expect(Math.abs(startRadius - endRadius)).toBeLessThanOrEqual(1);
        // The middle of the new arc lies on its radius; how far that circle is from the old arc's middle is the deviation.
        const half = arc.sweepRad / 2;
        const rx = arc.from.x - arc.centre.x;
        const ry = arc.from.y - arc.centre.y;
        const middle = {
          x: (arc.centre.x + rx * Math.cos(half) - ry * Math.sin(half)) / GRID_MM,
          y: (arc.centre.y + rx * Math.sin(half) + ry * Math.cos(half)) / GRID_MM,
        };
        expect(Math.abs(distanceMm(fit.centre, middle) - (startRadius + endRadius) / 2)).toBeLessThan(1.3);
      }),
      { numRuns: 3000, seed: 3 },
    );
    expect(fitted).toBeGreaterThan(2000);
  });

  it('leaves an arc that already stands on the grid alone', () => {
    const arc = arcAround({ x: 5, y: 0 }, 5, Math.PI, -Math.PI / 2);
    expect(fitArc(arc, { x: 0, y: 0 }, { x: 5000, y: 5000 }, GRID_MM, FAR_MM)).toEqual({
      centre: { x: 5000, y: 0 },
      clockwise: true,
    });
  });

  it('puts the chord for a flat arc of too large a radius, and keeps a bulging one', () => {
    const flat = arcAround({ x: 0, y: 0 }, 5000, 0, 0.001);
    expect(fitArc(flat, counts(flat.from), counts(flat.to), GRID_MM, 1000)).toBe('line');
    const bulging = arcAround({ x: 0, y: 0 }, 5000, 0, 1);
    expect(fitArc(bulging, counts(bulging.from), counts(bulging.to), GRID_MM, 1000)).toMatchObject({
      clockwise: false,
    });
  });

  it('says by how much an arc would move when its ends do not belong to it', () => {
    const arc = arcAround({ x: 0, y: 0 }, 1, 0, Math.PI);
    const fit = fitArc(arc, { x: 1000, y: 0 }, { x: -1400, y: 0 }, GRID_MM, FAR_MM);
    expect(fit).toMatchObject({ deviationCounts: expect.any(Number) });
    expect((fit as { deviationCounts: number }).deviationCounts).toBeGreaterThan(1);
  });
});
