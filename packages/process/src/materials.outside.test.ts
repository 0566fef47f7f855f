import { readFileSync } from 'node:fs';
import { outsideCheck } from '@gapwright/base/testing';
import { describe, it } from 'vitest';
import { findMaterial } from './find.js';
import { startingBook } from './testing/starting-book.js';

interface Element {
  readonly symbol: string;
  readonly atomicWeight: number;
  readonly density_g_cm3: number;
  readonly thermalConductivity_W_mK: number | null;
  readonly specificHeat_J_gK: number;
  readonly fusionHeat_kJ_mol: number;
  readonly phaseTransitions_K: readonly { readonly melting_point: number }[];
}

const file = new URL('../../../fixtures/process/elements.json', import.meta.url);
const { elements } = JSON.parse(readFileSync(file, 'utf8')) as { elements: readonly Element[] };
const book = startingBook();

describe('pure metals against an open table of the elements', () => {
  it.each(elements)('$symbol', (element) => {
    const material = findMaterial(book, element.symbol)!;
    const rows: readonly (readonly [string, number, number | null, string])[] = [
      ['density', material.densityGPerCm3.value, element.density_g_cm3, 'g/cm3'],
      ['heat capacity', material.heatCapacityJPerGK.value, element.specificHeat_J_gK, 'J/gK'],
      ['conductivity', material.conductivityWPerMK.value, element.thermalConductivity_W_mK, 'W/mK'],
      ['melting point', material.meltingC.value, element.phaseTransitions_K[0]!.melting_point - 273.15, 'degC'],
      [
        'heat of melting',
        material.latentHeatJPerG.value,
        (1000 * element.fusionHeat_kJ_mol) / element.atomicWeight,
        'J/g',
      ],
    ];
    for (const [name, ours, theirs, unit] of rows) {
      if (theirs === null) continue;
      outsideCheck({
        id: `process-${element.symbol}-${name.replaceAll(' ', '-')}`,
        what: `${element.symbol}: ${name}`,
        ours,
        theirs,
        unit,
        allowed: 0.1 * theirs,
        why: 'handbook values are stated to ± 10 %',
        source: 'mendeleev, table of the elements',
        standing: 'library',
      });
    }
  });
});
