import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { iso286GradeFor } from './iso-286.js';
import {
  defaultCutOffMm,
  integrityNotice,
  nGradeFor,
  raFromN,
  raFromVdi,
  recastRemoval,
  rzFromRa,
  vdiClassOf,
  vdiFromRa,
} from './surface.js';
import { exactly } from './testing/exactly.js';

describe('surface scales', () => {
  it('go there and back', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 18, noNaN: true }), (ra) => {
        expect(raFromVdi(vdiFromRa(exactly(ra, 'um'))).value).toBeCloseTo(ra, 9);
      }),
    );
  });

  it('double with six classes and grow tenfold with twenty', () => {
    const ra = (vdi: number): number => raFromVdi(exactly(vdi, 'VDI')).value;
    for (let vdi = 0; vdi <= 25; vdi++) {
      expect(ra(vdi + 6) / ra(vdi)).toBeCloseTo(1.9953, 4);
      expect(ra(vdi + 20) / ra(vdi)).toBeCloseTo(10, 9);
    }
  });

  it('say so off the VDI scale instead of clamping', () => {
    expect(vdiClassOf(0.1)).toEqual({ value: 0, problems: [] });
    expect(Object.is(vdiClassOf(0.1).value, 0)).toBe(true);
    for (const ra of [0.025, 30, 0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(vdiClassOf(ra).value).toBeNull();
      expect(vdiClassOf(ra).problems[0]!.code).toBe('PROCESS-VDI-OUTSIDE');
    }
    const figure = vdiFromRa(raFromN('N1').value!);
    expect(figure.reason.kind === 'law' && figure.reason.outsideRange).toHaveLength(1);
  });

  it('read roughness grades', () => {
    expect(raFromN(' n6 ').value!.value).toBe(0.8);
    for (const bad of ['N0', 'N13', '6', '', 'Nx', 'N1.5'])
      expect(raFromN(bad).problems[0]!.code).toBe('PROCESS-N-GRADE');
    expect([0.8, 0.79, 0.7, 6.4, 0.01, 100].map(nGradeFor)).toEqual(['N6', 'N6', 'N5', 'N9', null, 'N12']);
  });

  it('give Rz only as a band', () => {
    const rz = rzFromRa(exactly(1, 'um'));
    expect(rz.low).toBeGreaterThan(4);
    expect(rz.high).toBeLessThan(7.5);
  });

  it('name cut-offs', () => {
    expect([0.05, 0.1, 0.8, 2, 2.1, 12, 0, 100].map(defaultCutOffMm)).toEqual([
      0.25,
      0.25,
      0.8,
      0.8,
      2.5,
      8,
      null,
      null,
    ]);
  });

  it('flag recast as an estimate', () => {
    expect(integrityNotice(5).message).toContain('5 µm');
    expect(integrityNotice().severity).toBe('info');
    expect(recastRemoval(exactly(12, 'um'), exactly(2, '1')).value).toBe(24);
  });
});

describe('tolerance grade for a tolerance', () => {
  it('is the coarsest that fits inside', () => {
    expect(iso286GradeFor(25, 0.0105)).toBe('IT7');
    expect(iso286GradeFor(25, 0.0104)).toBe('IT6');
    expect(iso286GradeFor(25, 0.001)).toBeNull();
    expect(iso286GradeFor(600, 0.1)).toBeNull();
  });
});
