import { apply, defineLaw, defineSource, type Figure } from '@gapwright/base';
import { ceilingShare, removalCeiling } from '../energy.js';
import type { Material } from '../shop-book.js';
import { DRILL_PRACTICE } from '../sources.js';

const FEED = defineLaw({
  id: 'drill-feed',
  says: 'Feed at the mouth of the hole: the figure of a 1 mm tube, falling with the square of the diameter above 1 mm.',
  formula: 'f1 f_machine / max(1, d)²',
  source: DRILL_PRACTICE,
  inputs: {
    f1: { unit: 'mm/min', says: 'feed of a 1 mm tube' },
    f_machine: { unit: '1', says: 'machine factor' },
    d: { unit: 'mm', says: 'hole diameter', valid: [0.3, 3] },
  },
  output: 'mm/min',
  scatter: { relative: 0.25, cause: 'drill-rate-material' },
  evaluate: ({ f1, f_machine, d }) => (f1 * f_machine) / Math.max(1, d) ** 2,
});

const FEED_AT_DEPTH = defineLaw({
  id: 'drill-feed-at-depth',
  says: 'The feed falls with depth as flushing gets worse.',
  formula: 'f / (1 + D / (k d))',
  source: DRILL_PRACTICE,
  inputs: {
    f: { unit: 'mm/min', says: 'feed at the mouth' },
    D: { unit: 'mm', says: 'depth reached' },
    k: { unit: '1', says: 'depth that halves the feed, in diameters' },
    d: { unit: 'mm', says: 'hole diameter' },
  },
  output: 'mm/min',
  evaluate: ({ f, D, k, d }) => f / (1 + D / (k * d)),
});

const TIME = defineLaw({
  id: 'drill-time',
  says: 'The feed falls with depth as f / (1 + z / z0), so the time is the depth over the feed and a growing part.',
  formula: '(D + D² / (2 k d)) / f',
  source: DRILL_PRACTICE,
  inputs: {
    D: { unit: 'mm', says: 'depth' },
    d: { unit: 'mm', says: 'hole diameter' },
    k: { unit: '1', says: 'depth that halves the feed, in diameters' },
    f: { unit: 'mm/min', says: 'feed at the mouth' },
  },
  output: 'min',
  evaluate: ({ D, d, k, f }) => (D + (D * D) / (2 * k * d)) / f,
});

const TUBE_USE = defineLaw({
  id: 'drill-tube-use',
  says: 'Tube used up: wear over the depth, and dressing.',
  formula: 'D w + c',
  source: DRILL_PRACTICE,
  inputs: {
    D: { unit: 'mm', says: 'depth' },
    w: { unit: '1', says: 'tube length per hole length' },
    c: { unit: 'mm', says: 'dressing' },
  },
  output: 'mm',
  evaluate: ({ D, w, c }) => D * w + c,
});

const REMOVAL = defineLaw({
  id: 'drill-removal',
  says: 'Volume drilled per minute, the whole hole counted: cores of single-channel tubes are burned or break off.',
  formula: 'f pi d² / 4',
  source: DRILL_PRACTICE,
  inputs: { f: { unit: 'mm/min', says: 'feed' }, d: { unit: 'mm', says: 'hole diameter' } },
  output: 'mm3/min',
  evaluate: ({ f, d }) => (f * Math.PI * d * d) / 4,
});

const POWER_ESTIMATE = defineSource({
  id: 'drill-power-estimate',
  title: 'Estimate of this program: about 10 A mean current per millimetre of tube at 25 V',
  standing: 'computed',
  where: 'not measured; used for nothing but the heat balance',
});

const POWER = defineLaw({
  id: 'drill-mean-power',
  says: 'Mean power in the gap of a small-hole drill.',
  formula: '250 d',
  source: POWER_ESTIMATE,
  inputs: { d: { unit: 'mm', says: 'hole diameter' } },
  output: 'W',
  scatter: { relative: 0.5, cause: 'drill-power' },
  evaluate: ({ d }) => 250 * d,
});

/** Feed at the mouth of the hole, mm/min. */
export function drillFeed(
  feedOf1MmTube: Figure,
  machineFactor: Figure,
  diameterMm: Figure,
  materialId: string,
): Figure {
  return apply(FEED, { f1: feedOf1MmTube, f_machine: machineFactor, d: diameterMm }, materialId);
}

/** Feed at a depth, mm/min. */
export function drillFeedAtDepth(feed: Figure, depthMm: Figure, halfDepthRatio: Figure, diameterMm: Figure): Figure {
  return apply(FEED_AT_DEPTH, { f: feed, D: depthMm, k: halfDepthRatio, d: diameterMm });
}

/** Burning time to a depth, min. */
export function drillTime(depthMm: Figure, diameterMm: Figure, halfDepthRatio: Figure, feed: Figure): Figure {
  return apply(TIME, { D: depthMm, d: diameterMm, k: halfDepthRatio, f: feed });
}

/** Tube used for one hole, mm. */
export function tubeUse(depthMm: Figure, wearRatio: Figure, dressMm: Figure): Figure {
  return apply(TUBE_USE, { D: depthMm, w: wearRatio, c: dressMm });
}

/** Removal rate at the mouth, mm³/min. */
export function drillRemoval(feed: Figure, diameterMm: Figure): Figure {
  return apply(REMOVAL, { f: feed, d: diameterMm });
}

/**
 * Share of the removal ceiling a hole uses at the mouth, where it drills fastest. Without `meanPowerW` the power is this
 * program's estimate by diameter.
 */
export function drillCeilingShare(material: Material, feed: Figure, diameterMm: Figure, meanPowerW?: Figure): Figure {
  const power = meanPowerW ?? apply(POWER, { d: diameterMm });
  return ceilingShare(drillRemoval(feed, diameterMm), removalCeiling(material, power));
}
