import { readFileSync } from 'node:fs';
import { parseShopBook } from '@gapwright/process';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { EnquiryField } from './enquiry-fact.js';
import { fridayOf } from './read-days.js';
import { factsOf, readEnquiry } from './read-enquiry.js';

const BOOK_FILE = new URL('../../../../shop/starting-shop-book.json', import.meta.url);
const book = parseShopBook(JSON.parse(readFileSync(BOOK_FILE, 'utf8'))).value!;
const TODAY = '2026-11-25';

const valuesOf = (text: string, field: EnquiryField): (string | number)[] =>
  factsOf(readEnquiry(text, book, TODAY), field).map((f) => f.value);

describe('material', () => {
  test.each<[string, string[]]>([
    ['Please quote in 1.2379, hardened to 60 HRC.', ['D2']],
    ['Material: Ti 6Al 4V', ['Ti-6Al-4V']],
    ['material ti6al4v, annealed', ['Ti-6Al-4V']],
    ['Inconel 718 per drawing', ['Inconel718']],
    ['X153CrMoV12', ['D2']],
    ['hot-work tool steel H13', ['H13']],
    ['steel', ['C1045']],
    ['either D2 or M2', ['D2', 'M2']],
    ['AISI 304 stainless', ['304']],
    ['pitch circle 304 mm, 630 off', []],
    ['tungsten carbide, WC-10Co', ['WC-10Co']],
    ['We work with W. Smith', []],
    ['M20 thread', []],
    ['see www.example.com, made for Co-op', []],
  ])('%s', (text, ids) => expect(valuesOf(text, 'material')).toEqual(ids));
});

describe('quantity', () => {
  test.each<[string, number[]]>([
    ['12 pcs', [12]],
    ['12 pieces of part A', [12]],
    ['we need 5 off', [5]],
    ['20 Stück', [20]],
    ['Qty: 8', [8]],
    ['part x4', [4]],
    ['4 sets of', [4]],
    ['1, 5 and 50 pcs', [50]],
    ['10 x 20 mm pocket', []],
    ['hole 10x4', []],
    ['3.5 pcs', []],
  ])('%s', (text, ns) => expect(valuesOf(text, 'quantity')).toEqual(ns));
});

describe('height', () => {
  test.each<[string, number[]]>([
    ['30 mm thick', [30]],
    ['thickness 12,5', [12.5]],
    ['t=30', [30]],
    ['H 30', [30]],
    ['bore 20 H7', []],
    ['H13 steel', []],
    ['1.25" thick', [31.75]],
    ['Dicke: 24 mm', [24]],
    ['plate 30 mm thick, insert 12 mm thick', [30, 12]],
  ])('%s', (text, mm) => expect(valuesOf(text, 'heightMm')).toEqual(mm));
});

describe('surface', () => {
  test.each<[string, number[]]>([
    ['Ra 0.8', [0.8]],
    ['Ra 0,4 µm', [0.4]],
    ['Ra<=1.6', [1.6]],
    ['Ra 32 µin', [0.8128]],
    ['N6 all over', [0.8]],
    ['VDI 24', [1.6]],
    ['VDI 3400 class 24', [1.6]],
    ['finish to VDI 3400', []],
    ['Rz 6.3', []],
  ])('%s', (text, um) => expect(valuesOf(text, 'raUm')).toEqual(um));
});

describe('tolerance', () => {
  test.each<[string, number[]]>([
    ['±0.005', [0.005]],
    ['+/- 0.01 mm', [0.01]],
    ['+-0,02', [0.02]],
    ['± 5 µm', [0.005]],
    ['±0.0002"', [0.00508]],
    ['IT6 on 20', [0.0065]],
    ['IT6', []],
  ])('%s', (text, mm) => expect(valuesOf(text, 'toleranceMm')).toEqual(mm));
});

describe('wanted day', () => {
  test.each<[string, string[]]>([
    ['needed 2026-12-24', ['2026-12-24']],
    ['bis 24.12.2026', ['2026-12-24']],
    ['by 12 December', ['2026-12-12']],
    ['by 3rd of March', ['2027-03-03']],
    ['by December 12, 2027', ['2027-12-12']],
    ['delivery week 50', ['2026-12-11']],
    ['KW 5', ['2027-02-05']],
    ['2026-W53', ['2027-01-01']],
    ['due 5/6/2027', ['2027-06-05', '2027-05-06']],
    ['due 24/12/2026', ['2026-12-24']],
    ['Date: 2026-11-20', []],
    ['by 31 February 2027', []],
    ['in week 99', []],
  ])('%s', (text, days) => expect(valuesOf(text, 'wantedDay')).toEqual(days));

  test('without a day of today nothing is made up', () => {
    expect(readEnquiry('by 12 December, or week 50', book)).toEqual([]);
  });

  test('Fridays of ISO weeks are Fridays, seven days apart, and week 1 holds 4 January', () => {
    for (let year = 2020; year < 2040; year++) {
      const weeks = Array.from({ length: 53 }, (_, i) => fridayOf(year, i + 1)).filter((d) => d !== null);
      for (const [i, day] of weeks.entries()) {
        expect(new Date(day).getUTCDay()).toBe(5);
        if (i > 0) expect(Date.parse(day) - Date.parse(weeks[i - 1]!)).toBe(7 * 86_400_000);
      }
      expect(Math.abs(Date.parse(weeks[0]!) - Date.UTC(year, 0, 4)) / 86_400_000).toBeLessThan(7);
    }
  });
});

const LETTER = `Enquiry no. LK-2077
Customer: Larkspur Stampings (invented)

Please quote 6 pcs of the die plate as attached, D2 hardened, 24 mm thick,
profile ±0.004, Ra 0.6. We need them by 18 December.

Kind regards,
Ida Quill
Toolroom`;

test('a whole letter', () => {
  const facts = readEnquiry(LETTER, book, TODAY);
  expect(Object.fromEntries(facts.map((f) => [f.field, f.value]))).toEqual({
    enquiry: 'LK-2077',
    customer: expect.stringMatching(/Larkspur|Toolroom/),
    quantity: 6,
    material: 'D2',
    heightMm: 24,
    toleranceMm: 0.004,
    raUm: 0.6,
    wantedDay: '2026-12-18',
    contact: 'Ida Quill',
  });
  for (const f of facts) expect(LETTER.slice(f.start, f.end)).toBe(f.text);
});

test('whatever is pasted, every fact lies inside the text and nothing is thrown', () => {
  const words = [
    '±0.005',
    'Ra 0.8',
    '30 mm thick',
    'D2',
    'x4',
    'week 50',
    '12.12.2026',
    'N6',
    'VDI 24',
    ':',
    '\n',
    '"',
    'IT6 on 20',
    'Customer:',
  ];
  const piece = fc.oneof(fc.constantFrom(...words), fc.string({ maxLength: 12, unit: 'binary' }));
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 25 }), fc.constantFrom(' ', ''), (pieces, glue) => {
      const text = pieces.join(glue);
      for (const f of readEnquiry(text, book, TODAY)) {
        expect(f.start).toBeGreaterThanOrEqual(0);
        expect(f.end).toBeGreaterThan(f.start);
        expect(text.slice(f.start, f.end)).toBe(f.text);
        if (typeof f.value === 'number') expect(f.value).toBeGreaterThan(0);
      }
    }),
    { numRuns: 300 },
  );
});

test('a long hostile text is read in bounded time', () => {
  for (const text of [
    '1'.repeat(20_000),
    '± '.repeat(10_000),
    'Ra '.repeat(7_000),
    'a:\n'.repeat(7_000),
    '1.'.repeat(10_000),
  ]) {
    const began = performance.now();
    readEnquiry(text, book, TODAY);
    // Linear rules take milliseconds; a rule that backtracks would take minutes.
    expect(performance.now() - began).toBeLessThan(5_000);
  }
});
