import { outsideCheck } from '@gapwright/base/testing';
import { expect, it, vi } from 'vitest';
import { renderPaper } from './render-paper.js';
import { pdfText } from './testing/pdf-text.js';
import { SAMPLE_QUOTATION, SAMPLE_ROUTE_CARD, SAMPLE_SET_UP_SHEET } from './testing/sample-data.js';

// Setting a page takes a tenth of a second; on a machine busy with other tests, ten times that.
vi.setConfig({ testTimeout: 120_000 });

const OPTIONS = { createdAtS: 0 };
const READER = { source: 'pdftotext (poppler-utils) reading our PDF', standing: 'library' } as const;

/** The number that pdftotext finds behind a label. */
function found(words: string, pattern: RegExp): number {
  const match = pattern.exec(words);
  if (match === null) throw new Error(`pdftotext finds no ${pattern}`);
  return Number(match[1]!.replaceAll(',', '').replace('\u2212', '-'));
}

const flat = (pdf: Uint8Array): string => pdfText(pdf).replace(/\s+/g, ' ');

it('reads the quotation back', () => {
  const words = flat(renderPaper('quotation', SAMPLE_QUOTATION, OPTIONS));
  const check = (id: string, what: string, ours: number, theirs: number, unit: string): void =>
    outsideCheck({ id, what, ours, theirs, unit, allowed: 0.005, why: 'printed with two decimals', ...READER });
  check('papers-price-1', 'Price of one part on the quotation', 1234.5, found(words, /\b1 ([\d,.]+) 1,234\.50/), 'EUR');
  check('papers-total-50', 'Total for 50 parts on the quotation', 41595, found(words, /831\.90 ([\d,.]+)/), 'EUR');
  check('papers-saving', 'Saving by a coarser surface', -98.4, found(words, /(\u2212[\d.]+) EUR per piece/), 'EUR');
});

it('reads the set-up sheet back', () => {
  const sheet = SAMPLE_SET_UP_SHEET;
  const words = flat(renderPaper('set-up-sheet', sheet, OPTIONS));
  const check = (id: string, what: string, ours: number, theirs: number, unit: string, allowed: number): void =>
    outsideCheck({ id, what, ours, theirs, unit, allowed, why: 'half of the last printed digit', ...READER });
  check('papers-offset-1', 'Offset of the first pass', 0.218, found(words, /rough 1 ([\d.]+)/), 'mm', 0.0005);
  check('papers-hole-y', 'Y of start hole H2', -15, found(words, /H2 0\.000 (\S+)/), 'mm', 0.0005);
  check('papers-tolerance', 'Profile tolerance', 0.008, found(words, /±([\d.]+) mm/), 'mm', 0.0005);
  check('papers-wire', 'Wire diameter', 0.25, found(words, /Ø ([\d.]+) mm/), 'mm', 0.0005);
  check('papers-ra', 'Surface asked for', 0.6, found(words, /Ra ([\d.]+) µm/), 'µm', 0.005);
});

it('reads the route card back', () => {
  const words = flat(renderPaper('route-card', SAMPLE_ROUTE_CARD, OPTIONS));
  const machine = SAMPLE_ROUTE_CARD.operations[1]!.machineMin.value;
  outsideCheck({
    id: 'papers-machine-min',
    what: 'Machine time per run of operation 20',
    ours: machine,
    theirs: found(words, /\b(486) \(402–588\)/),
    unit: 'min',
    allowed: 0.5,
    why: 'printed in whole minutes',
    ...READER,
  });
});

it('keeps the signs of the trade', () => {
  const signs = 'Ø ± µ € ° × – ≤ ≥';
  const words = flat(renderPaper('quotation', { ...SAMPLE_QUOTATION, terms: [signs] }, OPTIONS));
  expect(words.replace(/\s+/g, '')).toContain(signs.replace(/\s+/g, ''));
});
