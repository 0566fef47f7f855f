import { areaMm2, contour } from '@gapwright/geometry';
import { expect, it } from 'vitest';
import { SAMPLE_DRAWING } from '../testing/sample-drawing.js';
import { wirePaths } from './wire-paths.js';

const areaOf = (feature: string, offsetMm: number): number => {
  const [way, ...rest] = wirePaths(
    SAMPLE_DRAWING.contours.filter((c) => c.feature === feature),
    [{ pass: 1, offsetMm }],
  );
  expect(rest).toEqual([]);
  return Math.abs(areaMm2(contour(way!.path, true)));
};
const drawn = (feature: string): number =>
  Math.abs(areaMm2(SAMPLE_DRAWING.contours.find((c) => c.feature === feature)!.contour));

it('runs outside outlines and inside openings', () => {
  expect(areaOf('F1', 0.2)).toBeGreaterThan(drawn('F1'));
  expect(areaOf('F2', 0.2)).toBeLessThan(drawn('F2'));
});

it('moves a round-ended slot by exactly the offset', () => {
  // Slot of 12 mm between centres, R 2.5: 12 · 2 r + π r² at r = 2.5 − 0.2.
  expect(areaOf('F3', 0.2)).toBeCloseTo(24 * 2.3 + Math.PI * 2.3 ** 2, 6);
});

it('names pass and feature, and draws nothing where the wire has no room', () => {
  const passes = [
    { pass: 1, offsetMm: 0.2 },
    { pass: 2, offsetMm: 0.14 },
  ];
  const ways = wirePaths(SAMPLE_DRAWING.contours, passes);
  expect(ways.map((w) => `${w.feature}.${w.pass}`)).toEqual(['F1.1', 'F1.2', 'F2.1', 'F2.2', 'F3.1', 'F3.2']);
  expect(wirePaths(SAMPLE_DRAWING.contours.slice(2), [{ pass: 1, offsetMm: 3 }])).toEqual([]);
});
