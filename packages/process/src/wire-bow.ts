import { apply, BY_DEFINITION, defineLaw, type Figure } from '@gapwright/base';
import { STRING_MODEL } from './sources.js';

const SPAN = defineLaw({
  id: 'guide-span',
  says: 'Free length of the wire: the work and the distance to the guide on either side.',
  formula: 'H + 2 a',
  source: BY_DEFINITION,
  inputs: { H: { unit: 'mm', says: 'burned height' }, a: { unit: 'mm', says: 'guide to work' } },
  output: 'mm',
  evaluate: ({ H, a }) => H + 2 * a,
});

const SAG = defineLaw({
  id: 'wire-sag',
  says: 'A string loaded evenly over the work and held by its tension bows by this much in the middle.',
  formula: '(q / 1000) H (2 L − H) / (8 T)',
  source: STRING_MODEL,
  inputs: {
    q: { unit: 'N/m', says: 'force per length' },
    H: { unit: 'mm', says: 'burned height' },
    L: { unit: 'mm', says: 'distance between the guides' },
    T: { unit: 'N', says: 'wire tension' },
  },
  output: 'mm',
  evaluate: ({ q, H, L, T }) => ((q / 1000) * H * (2 * L - H)) / (8 * T),
});

const ARC_ERROR = defineLaw({
  id: 'arc-lag-error',
  says: 'A wire that lags behind on an arc runs inside it by about lag² / 2R.',
  formula: 'R − sqrt(max(R² − δ², 0))',
  source: STRING_MODEL,
  inputs: { R: { unit: 'mm', says: 'radius of the wire path' }, δ: { unit: 'mm', says: 'lag' } },
  output: 'mm',
  evaluate: ({ R, δ }) => R - Math.sqrt(Math.max(R * R - δ * δ, 0)),
});

const BREAK = defineLaw({
  id: 'wire-break-force',
  says: 'Force that breaks the wire: section times strength.',
  formula: 'π/4 d² S',
  source: BY_DEFINITION,
  inputs: { d: { unit: 'mm', says: 'wire diameter' }, S: { unit: 'N/mm2', says: 'tensile strength' } },
  output: 'N',
  evaluate: ({ d, S }) => (Math.PI / 4) * d * d * S,
});

/** Free length of the wire between its guides, mm. */
export function guideSpan(heightMm: Figure, guideToWorkMm: Figure): Figure {
  return apply(SPAN, { H: heightMm, a: guideToWorkMm });
}

/**
 * Bow of the wire in the middle, mm (string model; load spread evenly over the central `heightMm` of the span).
 * Equals q L² / 8T when the work fills the span.
 */
export function wireSag(forceNPerM: Figure, heightMm: Figure, spanMm: Figure, tensionN: Figure): Figure {
  return apply(SAG, { q: forceNPerM, H: heightMm, L: spanMm, T: tensionN });
}

/** Radius error on an arc of the wire path with this lag, mm; the whole radius when the lag is as large as the arc. */
export function arcLagError(radiusMm: Figure, lagMm: Figure): Figure {
  return apply(ARC_ERROR, { R: radiusMm, δ: lagMm });
}

/** Force at which the wire breaks, N. */
export function wireBreakForce(diameterMm: Figure, strengthNPerMm2: Figure): Figure {
  return apply(BREAK, { d: diameterMm, S: strengthNPerMm2 });
}
