import type { SceneBand } from '@gapwright/job';
import { describe, expect, it } from 'vitest';
import { autoFactor, bandLine, limitLine, outwardNormals, worstPoints } from './band.js';

/** A circle of radius 10 with a deviation by angle, walked either way. */
function circle(deviation: (angle: number) => number, direction: 1 | -1, feature = 'F1'): SceneBand {
  const samples: number[] = [];
  for (let i = 0; i < 72; i++) {
    const a = (direction * i * Math.PI) / 36;
    samples.push(10 * Math.cos(a), 10 * Math.sin(a), deviation(a));
  }
  return { operation: 1, feature, samples: Float64Array.from(samples), isClosed: true };
}

describe('error band', () => {
  it('lies outside for rest and inside for undercut, whichever way the contour runs', () => {
    for (const direction of [1, -1] as const) {
      const band = circle((a) => (Math.cos(a) > 0 ? 0.002 : -0.003), direction);
      const line = bandLine(band, outwardNormals(band), 1000);
      for (let i = 0; i < 72; i++) {
        const r = Math.sqrt(line[2 * i]! ** 2 + line[2 * i + 1]! ** 2);
        expect(r).toBeCloseTo(band.samples[3 * i + 2]! > 0 ? 12 : 7, 9);
      }
      const limit = limitLine(band, outwardNormals(band), -0.004, 500);
      expect(Math.sqrt(limit[0]! ** 2 + limit[1]! ** 2)).toBeCloseTo(8, 9);
    }
  });

  it('goes to the left of travel on an open contour', () => {
    const band: SceneBand = {
      operation: 1,
      feature: 'O1',
      samples: Float64Array.of(0, 0, 0.001, 10, 0, 0.001),
      isClosed: false,
    };
    expect([...bandLine(band, outwardNormals(band), 1000)]).toEqual([0, 1, 10, 1]);
  });

  it('takes a factor that can be read at this zoom, from the steps on offer', () => {
    const band = circle(() => 0.002, 1);
    const far = autoFactor([band], null, 5);
    const near = autoFactor([band], null, 500);
    expect(far).toBe(1000);
    expect(near).toBe(10);
    expect(autoFactor([band], 0.02, 5)).toBeLessThan(far);
  });

  it('calls out the largest rest and undercut of each band, worst first', () => {
    const bands = [
      circle((a) => 0.001 * Math.cos(a), 1, 'F1'),
      circle((a) => (Math.abs(a - Math.PI) < 0.01 ? -0.005 : 0), 1, 'F2'),
    ];
    const worst = worstPoints(bands, 6);
    expect(worst.map((w) => [w.feature, w.deviationMm])).toEqual([
      ['F2', -0.005],
      ['F1', 0.001],
      ['F1', -0.001],
    ]);
    expect(worst[0]!.at.x).toBeCloseTo(-10, 9);
    expect(worstPoints(bands, 1)).toHaveLength(1);
  });
});
