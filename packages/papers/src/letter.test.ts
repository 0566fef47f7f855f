import { describe, expect, it, vi } from 'vitest';
import type { LetterData } from './letter-data.js';
import { letterText } from './letter-text.js';
import { renderPaper } from './render-paper.js';
import { pdfInfo, pdfText } from './testing/pdf-text.js';
import { SAMPLE_LETTER } from './testing/sample-letter.js';

// Setting a page takes a tenth of a second; on a machine busy with other tests, ten times that.
vi.setConfig({ testTimeout: 120_000 });

const flat = (text: string): string => text.replace(/\s+/g, ' ');
const printed = (data: LetterData): string => flat(pdfText(renderPaper('letter', data, { createdAtS: 0 })));
const FORMS = [
  ['on paper', printed],
  ['as plain text', (data: LetterData) => flat(letterText(data))],
] as const;

describe.each(FORMS)('the letter %s', (_name, read) => {
  const words = read(SAMPLE_LETTER);

  it('is addressed, names enquiry, part and drawing, and says how long it holds', () => {
    for (const part of [
      'Aldermoor Packaging Machines',
      'Dear Ms R. Okafor,',
      'E-2611-047',
      'Indexing wheel, 20 teeth',
      'indexing-wheel.dxf, revision C',
      'hold until 24 December 2026',
      'Kerf & Co. Spark Erosion',
    ])
      expect(words).toContain(part);
  });

  it('states the price, and for each change what it saves, what it then costs and what to check', () => {
    for (const part of ['912.80 EUR', '4,564.00 EUR', '−98.40 EUR (−11 %)', '814.40 EUR', '4,072.00 EUR for 5'])
      expect(words).toContain(part);
    for (const part of ['846.15 EUR', '16,923.00 EUR for 20', '−66.65 EUR (−7 %)']) expect(words).toContain(part);
    for (const change of SAMPLE_LETTER.changes) {
      // The two columns of the paper interleave in the text read back, so word by word.
      for (const word of flat(`${change.says} ${change.check}`).split(' ')) expect(words).toContain(word);
    }
    expect(words).toContain('Where: (1) and (2).');
    expect(words).toContain('2 corners drawn sharp');
  });

  it('has a form to answer each change', () => {
    const form = words.slice(words.lastIndexOf('Your answer'));
    for (const { title } of SAMPLE_LETTER.changes) expect(form).toContain(title);
    for (const box of ['accepted', 'not accepted', 'please call us']) expect(form).toContain(box);
  });

  it('is marked as invented exactly when it is, and says what its numbers rest on', () => {
    expect(words).toContain('INVENTED DEMO DATA');
    expect(read({ ...SAMPLE_LETTER, invented: false })).not.toContain('INVENTED');
    expect(words).toContain('no burns of this shop yet');
  });

  it('works without anything optional', () => {
    const { drawing, bookVersion, customer, ...rest } = SAMPLE_LETTER;
    const bare = read({ ...rest, customer: { name: 'Customer' }, places: [], changes: rest.changes.slice(0, 1) });
    expect([drawing, bookVersion, customer].every((x) => x !== undefined)).toBe(true);
    expect(bare).toContain('Good day,');
    expect(bare).toContain('One change would lower it');
    expect(bare).not.toMatch(/undefined|null|none|Where:|Marked|Shop book/);
  });

  it('prints inches when the data say so', () => {
    const inches = read({ ...SAMPLE_LETTER, lengthUnit: 'inch' });
    expect(inches).toContain('±0.0003 in');
    expect(inches).toContain('0.9843 in');
  });
});

it('holds twenty changes on as many pages as they need, with the form in one piece', () => {
  const changes = Array.from({ length: 20 }, (_, i) => SAMPLE_LETTER.changes[i % 3]!);
  const pdf = renderPaper('letter', { ...SAMPLE_LETTER, changes }, { createdAtS: 0 });
  expect(Number(pdfInfo(pdf).get('Pages'))).toBeLessThanOrEqual(4);
  const form = pdfText(pdf)
    .split('\f')
    .filter((page) => page.includes('not accepted'));
  expect(form).toHaveLength(1);
  expect(form[0]).toMatch(/^ *T +/m);
});

describe('plain text', () => {
  it('stays within 72 columns and ends its lines with line feeds alone', () => {
    const text = letterText(SAMPLE_LETTER);
    for (const line of text.split('\n')) expect([...line].length).toBeLessThanOrEqual(72);
    expect(text).not.toContain('\r');
    expect(text.endsWith('\n')).toBe(true);
  });

  it('keeps what users wrote on one line, without control characters or direction overrides', () => {
    const name = 'Evil\r\nBcc: all@example\u202egnp\u0000';
    const text = letterText({ ...SAMPLE_LETTER, customer: { name } });
    expect(text).toContain('Evil Bcc: all@examplegnp');
    for (const hidden of ['\r', '\u0000', '\u202e']) expect(text).not.toContain(hidden);
    expect(text.split('\n').filter((line) => line.startsWith('Bcc'))).toEqual([]);
  });

  it('leaves long words whole, to be copied', () => {
    const word = 'x'.repeat(5000);
    expect(letterText({ ...SAMPLE_LETTER, part: { ...SAMPLE_LETTER.part, name: word } })).toContain(word);
  });

  it('refuses numbers that are not finite', () => {
    expect(() => letterText({ ...SAMPLE_LETTER, unitPrice: Number.NaN })).toThrow('data.unitPrice is NaN');
  });
});
