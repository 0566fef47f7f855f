import { arcPieces, contour } from '@gapwright/geometry';
import type { ProofSetup } from '../setup.js';
import { polygon, type SampleFeature, type SampleJob, sampleJob } from './sample-jobs.js';

export const CIRCLE: SampleFeature = {
  feature: { id: 'F1', kind: 'opening', contour: contour(arcPieces({ x: 0, y: 0 }, 5, 0, 2 * Math.PI), true) },
  hole: { x: 0, y: 0 },
  tabMm: 2,
};

/** A punch with three rounded corners and a sharp outside one. */
export const PUNCH: SampleFeature = {
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

/** An opening with a sharp inside corner and a sharp outside one. */
export const ELL: SampleFeature = {
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

export const SECOND_HOLE: SampleFeature = {
  feature: { id: 'F4', kind: 'opening', contour: contour(arcPieces({ x: 20, y: 5 }, 4, 0, 2 * Math.PI), true) },
  hole: { x: 20, y: 5 },
  tabMm: 2,
};

/** A hole inside the punch. */
export const INNER_HOLE: SampleFeature = {
  feature: { id: 'F5', kind: 'opening', contour: contour(arcPieces({ x: 10, y: 6 }, 3, 0, 2 * Math.PI), true) },
  hole: { x: 10, y: 6 },
  tabMm: 1.5,
};

type Make = (passes: number, change?: Partial<ProofSetup>) => SampleJob;

/** Agreed radius of the sharp inside corners, mm: no less than the erosion radius of any ladder's last pass (0.165). */
const AGREED_MM = 0.25;

export const SAMPLE_JOBS: Readonly<Record<string, Make>> = {
  'circle opening': (n, c) => sampleJob([CIRCLE], n, c),
  'rounded punch': (n, c) => sampleJob([PUNCH], n, c),
  'L opening': (n, c) => sampleJob([ELL], n, { agreedCornerRadiusMm: AGREED_MM, ...c }),
  'two holes': (n, c) => sampleJob([CIRCLE, SECOND_HOLE], n, c),
  'punch with a hole': (n, c) => sampleJob([INNER_HOLE, PUNCH], n, c),
};
