import { arcPieces, contour } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import { proveProgram } from './prove.js';
import type { ProofSetup } from './setup.js';
import { asText, motionsOf, polygon, type SampleFeature, type SampleJob, sampleJob } from './testing/sample-jobs.js';

const circle: SampleFeature = {
  feature: { id: 'F1', kind: 'opening', contour: contour(arcPieces({ x: 0, y: 0 }, 5, 0, 2 * Math.PI), true) },
  hole: { x: 0, y: 0 },
  tabMm: 2,
};
const punch: SampleFeature = {
  feature: {
    id: 'F2',
    kind: 'outline',
    contour: polygon([
      { x: 0, y: 0, r: 1 },
      { x: 20, y: 0, r: 1 },
      { x: 20, y: 12, r: 2 },
      { x: 0, y: 12, r: 0 },
    ]),
  },
  hole: { x: 10, y: -3 },
  tabMm: 3,
};
const ell: SampleFeature = {
  feature: {
    id: 'F3',
    kind: 'opening',
    contour: polygon([
      { x: 0, y: 0, r: 0.5 },
      { x: 16, y: 0, r: 0.5 },
      { x: 16, y: 6, r: 0.5 },
      { x: 6, y: 6 },
      { x: 6, y: 15, r: 0.5 },
      { x: 0, y: 15 },
    ]),
  },
  hole: { x: 8, y: 2.5 },
  tabMm: 2,
};
const secondHole: SampleFeature = {
  feature: { id: 'F4', kind: 'opening', contour: contour(arcPieces({ x: 20, y: 5 }, 4, 0, 2 * Math.PI), true) },
  hole: { x: 20, y: 5 },
  tabMm: 2,
};

const jobs: Record<string, (passes: number, change?: Partial<ProofSetup>) => SampleJob> = {
  'circle opening': (n, c) => sampleJob([circle], n, c),
  'rounded punch': (n, c) => sampleJob([punch], n, c),
  'L opening': (n, c) => sampleJob([ell], n, { agreedCornerRadiusMm: 0.25, ...c }),
  'two holes': (n, c) => sampleJob([circle, secondHole], n, c),
};

describe('a right program passes', () => {
  for (const [name, make] of Object.entries(jobs)) {
    for (const passes of [1, 3]) {
      it(`${name}, ${passes} passes`, () => {
        const job = make(passes);
        const result = proveProgram(motionsOf(asText(job.steps)), job.setup, job.features);
        expect(result.findings.map((f) => f.message)).toEqual([]);
        expect(result.verdict).toBe('pass');
        expect(result.maxUndercutMm).toBeLessThan(0.0002);
        expect(result.maxRestMm).toBeLessThan(0.0002);
        expect(result.slugs.every((s) => s.planned)).toBe(true);
        expect(result.slugs.length).toBe(job.features.length);
      });
    }
  }
});
