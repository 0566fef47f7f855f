import fc from 'fast-check';
import { expect, it, vi } from 'vitest';
import { fontLetters } from './font-letters.js';
import { letterProblems, missingLetters } from './letters.js';
import { readFonts } from './package-files.js';
import { renderPaper } from './render-paper.js';
import { SAMPLE_QUOTATION, SAMPLE_ROUTE_CARD, SAMPLE_SET_UP_SHEET } from './testing/sample-data.js';

// Setting a page takes a tenth of a second; on a machine busy with other tests, ten times that.
vi.setConfig({ testTimeout: 120_000 });

it('has the letters of the trade in every weight', () => {
  const weights = readFonts().map(fontLetters);
  const letters = 'Ø±µμ€°×–−≤≥²³½∑Ωλ·✓✗▲□ÄÖÜßçñøåŁžĳЖяΣ';
  for (const has of weights) expect([...letters].filter((c) => !has(c.codePointAt(0)!))).toEqual([]);
  // The other weights must not lack what the first one has.
  const differ = Array.from({ length: 0x3000 }, (_, code) => code).filter(
    (code) => new Set(weights.map((has) => has(code))).size > 1,
  );
  expect(differ).toEqual([]);
});

it('names letters that would print as boxes', () => {
  expect(missingLetters('Müller 日本 Ø5')).toEqual(['日', '本']);
  const [only, ...rest] = letterProblems({ ...SAMPLE_QUOTATION, customer: { name: '日本' } });
  expect(rest).toEqual([]);
  expect(only).toMatchObject({ code: 'PAPERS-NO-LETTER', severity: 'warn', at: { field: 'data.customer.name' } });
});

it('finds nothing in the samples', () => {
  for (const data of [SAMPLE_QUOTATION, SAMPLE_SET_UP_SHEET, SAMPLE_ROUTE_CARD])
    expect(letterProblems(data)).toEqual([]);
});

const isAccessible = (pdf: Uint8Array): boolean => Buffer.from(pdf).toString('latin1').includes('pdfuaid:part');

it('keeps to PDF/UA-1 whenever the typeface has all letters', () => {
  expect(isAccessible(renderPaper('quotation', SAMPLE_QUOTATION, { createdAtS: 0 }))).toBe(true);
  const foreign = { ...SAMPLE_QUOTATION, terms: ['日本'] };
  expect(isAccessible(renderPaper('quotation', foreign, { createdAtS: 0 }))).toBe(false);
});

it('sets any text at all', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 200 }), fc.string({ unit: 'grapheme-ascii' }), (any, ascii) => {
      const pdf = renderPaper(
        'route-card',
        { ...SAMPLE_ROUTE_CARD, jobNumber: ascii, part: { ...SAMPLE_ROUTE_CARD.part, name: any, material: ascii } },
        { createdAtS: 0 },
      );
      expect(pdf.length).toBeGreaterThan(10_000);
    }),
    { numRuns: 15 },
  );
});
