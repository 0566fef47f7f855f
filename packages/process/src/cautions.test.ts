import { describe, expect, it } from 'vitest';
import { allCautions, CAUTION_LEAD, cautionsFor } from './cautions.js';
import { findMaterial } from './find.js';
import { startingBook } from './testing/starting-book.js';

const book = startingBook();
const idsFor = (materialId: string, more: Partial<Parameters<typeof cautionsFor>[0]> = {}): string[] =>
  cautionsFor({
    process: 'wire',
    material: findMaterial(book, materialId)!,
    unattended: false,
    heavySlug: false,
    oil: false,
    ...more,
  }).map((c) => c.id);

describe('cautions', () => {
  it('defer to the manual, local codes and licensed practice', () => {
    for (const word of ['manual', 'local codes', 'licensed practice']) expect(CAUTION_LEAD).toContain(word);
  });

  it('always name shock, fume, hydrogen and waste', () => {
    for (const id of ['shock', 'fume', 'hydrogen', 'waste']) expect(idsFor('C1045')).toContain(id);
  });

  it('follow the material and the occasion', () => {
    expect(idsFor('Ti-6Al-4V')).toContain('reactive-fines');
    expect(idsFor('WC-10Co')).toContain('cobalt');
    expect(idsFor('BeCu')).toContain('beryllium');
    expect(idsFor('316L')).toContain('chromium-nickel');
    expect(idsFor('C1045')).not.toContain('cobalt');
    expect(idsFor('C1045', { heavySlug: true, unattended: true, oil: true })).toEqual(
      expect.arrayContaining(['heavy-slug', 'unattended', 'oil-fire']),
    );
    expect(idsFor('C1045')).not.toContain('oil-fire');
    expect(idsFor('C1045', { process: 'drill' })).toContain('pressure');
    expect(idsFor('C1045', { process: 'drill' })).not.toContain('magnetised-work');
  });

  it('have each their own id and a sentence that can stand on paper', () => {
    const ids = allCautions().map((c) => c.id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const c of allCautions()) expect(c.text).toMatch(/^[A-Z].{30,}\.$/s);
  });
});
