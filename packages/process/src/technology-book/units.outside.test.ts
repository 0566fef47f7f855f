import { outsideCheck } from '@gapwright/base/testing';
import Qty from 'js-quantities';
import { describe, expect, it } from 'vitest';
import { knownUnits, measureOf, unitFactor, unitsLike } from './units.js';

/** Spelling of our words in the library; words it lacks are built from parts. */
const SPELLED: Readonly<Record<string, string>> = { gf: 'gram-force', kgf: 'kilogram-force', '%': '%' };
const spelled = (unit: string): string => SPELLED[unit] ?? unit;

describe('unit conversion against an independent library', () => {
  it('every pair of units that measure the same', () => {
    let largest = 0;
    let pairs = 0;
    for (const from of knownUnits()) {
      if (['1', '%', 'gf', 'kgf'].includes(from)) continue;
      for (const to of unitsLike(from)) {
        if (['gf', 'kgf'].includes(to)) continue;
        const ours = unitFactor(from, to).value!;
        const theirs = new Qty(1, spelled(from)).to(spelled(to)).scalar;
        largest = Math.max(largest, Math.abs(ours / theirs - 1));
        pairs += 1;
      }
    }
    expect(pairs).toBeGreaterThan(150);
    outsideCheck({
      id: 'technology-units',
      what: `Largest relative difference over ${pairs} unit conversions`,
      ours: largest,
      theirs: 0,
      unit: '1',
      allowed: 1e-12,
      why: 'rounding of a few multiplications',
      source: 'js-quantities',
      standing: 'library',
    });
  });

  it('worked conversions', () => {
    for (const [id, from, to, density, theirs, allowed] of [
      ['in2-per-h', 'in2/h', 'mm2/min', undefined, 645.16 / 60, 1e-9],
      ['g-per-min-steel', 'g/min', 'mm3/min', 7.85, 127.3885, 1e-4],
      ['uin', 'uin', 'um', undefined, 0.0254, 1e-12],
      ['ns', 'ns', 'us', undefined, 0.001, 1e-15],
      ['gf', 'gf', 'N', undefined, 0.00980665, 1e-12],
    ] as const) {
      outsideCheck({
        id: `technology-unit-${id}`,
        what: `1 ${from} in ${to}${density === undefined ? '' : ` at ${density} g/cm³`}`,
        ours: unitFactor(from, to, density).value!,
        theirs,
        unit: to,
        allowed,
        why: 'digits of the worked number',
        source: 'definitions of inch, gram-force and density',
        standing: 'from memory',
      });
    }
  });

  it('refuses what does not convert', () => {
    const code = (from: string, to: string, density?: number) =>
      unitFactor(from, to, density).problems.map((p) => p.code);
    expect(code('furlong', 'mm')).toEqual(['TECH-UNIT-UNKNOWN']);
    expect(code('MM', 'mm')).toEqual(['TECH-UNIT-UNKNOWN']);
    expect(code('mm', 'us')).toEqual(['TECH-UNIT-MISMATCH']);
    expect(code('g/min', 'mm3/min')).toEqual(['TECH-DENSITY-MISSING']);
    expect(code('g/min', 'mm3/min', 0)).toEqual(['TECH-DENSITY-MISSING']);
    expect(unitFactor('µm', 'um').value).toBe(1);
    expect(measureOf('mm²/min')).toBe('area rate');
  });
});
