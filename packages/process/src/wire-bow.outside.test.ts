import { outsideCheck } from '@gapwright/base/testing';
import { describe, expect, it } from 'vitest';
import { exactly } from './testing/exactly.js';
import { arcLagError, guideSpan, wireSag } from './wire-bow.js';
import { passOffset, smallestInsideRadius } from './wire-geometry.js';

const sag = (q: number, h: number, l: number, t: number): number =>
  wireSag(exactly(q, 'N/m'), exactly(h, 'mm'), exactly(l, 'mm'), exactly(t, 'N')).value;

const STATICS = { source: 'string under uniform load, worked by hand', standing: 'from memory' } as const;

describe('bow of the wire', () => {
  it('gives the worked sag', () => {
    outsideCheck({
      ...STATICS,
      id: 'process-sag',
      what: 'Sag at 1 N/m, span 80 mm, 15 N',
      ours: sag(1, 80, 80, 15),
      theirs: 0.0533,
      unit: 'mm',
      allowed: 5e-5,
      why: 'four decimals',
    });
    outsideCheck({
      ...STATICS,
      id: 'process-sag-50um',
      what: 'Sag at 0.9375 N/m, span 80 mm, 15 N',
      ours: sag(0.9375, 80, 80, 15),
      theirs: 0.05,
      unit: 'mm',
      allowed: 1e-12,
      why: 'exact',
    });
  });

  it('agrees with the influence line when the work fills only part of the span', () => {
    // A unit force at x bows a string of span L at its middle by min(x, L - x) / (2 T); add up over the loaded part.
    const influence = (q: number, h: number, l: number, t: number): number => {
      const strips = 20_000;
      const width = h / strips;
      let total = 0;
      for (let k = 0; k < strips; k++) {
        const x = (l - h) / 2 + (k + 0.5) * width;
        total += ((q / 1000) * width * Math.min(x, l - x)) / (2 * t);
      }
      return total;
    };
    for (const [q, h, l, t] of [
      [1, 80, 80, 15],
      [1, 40, 80, 15],
      [0.3, 5, 29, 8],
      [2, 200, 230, 12],
    ] as const) {
      outsideCheck({
        ...STATICS,
        id: `process-sag-part-${h}-${l}`,
        what: `Sag with ${h} mm of work in a span of ${l} mm, against the summed influence line`,
        ours: sag(q, h, l, t),
        theirs: influence(q, h, l, t),
        unit: 'mm',
        allowed: 1e-8,
        why: 'sum over 20 000 strips',
      });
    }
    expect(guideSpan(exactly(40, 'mm'), exactly(12, 'mm')).value).toBe(64);
  });

  it.each([
    [5, 0.25],
    [0.5, 2.5],
  ])('lag 0.05 on an arc of radius %f', (radius, um) => {
    outsideCheck({
      ...STATICS,
      id: `process-lag-${radius}`,
      what: `Radius error of an arc R ${radius} mm at 0.05 mm lag`,
      ours: arcLagError(exactly(radius, 'mm'), exactly(0.05, 'mm')).value * 1000,
      theirs: um,
      unit: 'um',
      allowed: 0.01,
      why: 'stated as lag²/2R',
    });
  });

  it('keeps a lag as large as the arc finite', () => {
    expect(arcLagError(exactly(0.04, 'mm'), exactly(0.05, 'mm')).value).toBe(0.04);
  });
});

describe('smallest inside radius', () => {
  it.each([
    [0.1, 0.015, 0.065],
    [0.15, 0.02, 0.095],
    [0.2, 0.025, 0.125],
    [0.25, 0.03, 0.155],
    [0.3, 0.035, 0.185],
  ])('wire %f, gap %f', (d, gap, radius) => {
    const diameter = exactly(d, 'mm');
    outsideCheck({
      id: `process-radius-${d}`,
      what: `Smallest inside radius of a single cut with wire ${d}`,
      ours: smallestInsideRadius(diameter, passOffset(diameter, exactly(gap, 'mm'), [])).value,
      theirs: radius,
      unit: 'mm',
      allowed: 1e-12,
      why: 'half the wire and the gap',
      source: 'usual gaps by wire diameter',
      standing: 'common practice',
    });
  });

  it.each([
    [0.25, 0.15],
    [0.15, 0.1],
    [0.1, 0.08],
  ])('a printed guide for wire %f', (d, radius) => {
    const diameter = exactly(d, 'mm');
    const gap = exactly(0.005 + 0.1 * d, 'mm');
    outsideCheck({
      id: `process-radius-guide-${d}`,
      what: `Smallest inside radius with wire ${d} in a stamping design guide`,
      ours: smallestInsideRadius(diameter, passOffset(diameter, gap, [])).value,
      theirs: radius,
      unit: 'mm',
      allowed: 0.016,
      why: 'the guide prints whole hundredths and a gap of 0.025 to 0.030 for all wires',
      source: 'stamping design guide, wire-cut inside corners',
      standing: 'published',
    });
  });
});
