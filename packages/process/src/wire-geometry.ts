import { apply, BugError, BY_DEFINITION, defineLaw, type Figure, sumOf } from '@gapwright/base';

const HALF = defineLaw({
  id: 'wire-radius',
  says: 'The radius of the wire is half its diameter.',
  formula: 'd / 2',
  source: BY_DEFINITION,
  inputs: { d: { unit: 'mm', says: 'wire diameter' } },
  output: 'mm',
  evaluate: ({ d }) => d / 2,
});

const KERF = defineLaw({
  id: 'wire-kerf',
  says: 'The kerf is the wire diameter and a spark gap on either side.',
  formula: 'd + 2 g',
  source: BY_DEFINITION,
  inputs: { d: { unit: 'mm', says: 'wire diameter' }, g: { unit: 'mm', says: 'spark gap per side' } },
  output: 'mm',
  evaluate: ({ d, g }) => d + 2 * g,
});

const INSIDE_RADIUS = defineLaw({
  id: 'smallest-inside-radius',
  says: 'No inside corner can be sharper than the offset of the pass that forms it, nor sharper than the wire.',
  formula: 'max(o, d / 2)',
  source: BY_DEFINITION,
  inputs: { d: { unit: 'mm', says: 'wire diameter' }, o: { unit: 'mm', says: 'offset of the pass' } },
  output: 'mm',
  evaluate: ({ d, o }) => Math.max(o, d / 2),
});

/** Half the wire diameter, mm. */
export function wireRadius(diameterMm: Figure): Figure {
  return apply(HALF, { d: diameterMm });
}

/** Width removed by one cut into the solid, mm: diameter + 2 × gap. */
export function kerfWidth(diameterMm: Figure, gapMm: Figure): Figure {
  return apply(KERF, { d: diameterMm, g: gapMm });
}

/**
 * Distance of the wire centre from the finished contour: d/2 + gap of this pass + stock that the later passes take.
 * `stocksAfterMm` lists the stock of each later pass in order; empty for the last pass.
 */
export function passOffset(diameterMm: Figure, gapMm: Figure, stocksAfterMm: readonly Figure[]): Figure {
  const parts: Record<string, Figure> = { 'wire radius': wireRadius(diameterMm), 'spark gap': gapMm };
  stocksAfterMm.forEach((stock, k) => {
    if (stock.unit !== 'mm') throw new BugError(`passOffset: stock in ${stock.unit}, expected mm`);
    parts[stocksAfterMm.length === 1 ? 'stock for the next pass' : `stock for later pass ${k + 1}`] = stock;
  });
  return sumOf(parts);
}

/**
 * Smallest inside radius a pass with this offset can form, mm. A drawn radius must be at least this; give the offset of
 * the last pass for what the wire can leave, of the first pass for what it can follow without trimming.
 */
export function smallestInsideRadius(diameterMm: Figure, offsetMm: Figure): Figure {
  return apply(INSIDE_RADIUS, { d: diameterMm, o: offsetMm });
}
