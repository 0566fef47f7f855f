import { describe, expect, it, vi } from 'vitest';
import { type PaperData, type PaperKind, renderPaper } from './render-paper.js';
import { pdfFonts, pdfInfo, pdfText } from './testing/pdf-text.js';
import {
  SAMPLE_INTERNAL_QUOTATION,
  SAMPLE_QUOTATION,
  SAMPLE_ROUTE_CARD,
  SAMPLE_SET_UP_SHEET,
} from './testing/sample-data.js';
import { SAMPLE_LETTER } from './testing/sample-letter.js';

// Setting a page takes a tenth of a second; on a machine busy with other tests, ten times that.
vi.setConfig({ testTimeout: 120_000 });

const OPTIONS = { createdAtS: 1_795_000_000 };
const SAMPLES: PaperData = {
  quotation: SAMPLE_QUOTATION,
  'set-up-sheet': SAMPLE_SET_UP_SHEET,
  'route-card': SAMPLE_ROUTE_CARD,
  letter: SAMPLE_LETTER,
};
const KINDS = Object.keys(SAMPLES) as PaperKind[];
const text = (pdf: Uint8Array): string => pdfText(pdf).replace(/\s+/g, ' ');
const pages = (pdf: Uint8Array): number => Number(pdfInfo(pdf).get('Pages'));
/** Without blanks and places to break: for text that wraps anywhere. */
const letters = (pdf: Uint8Array): string => pdfText(pdf).replace(/[\s\u200b\f]+/g, '');

describe.each(KINDS)('%s', (kind) => {
  const pdf = renderPaper(kind, SAMPLES[kind], OPTIONS);

  it('is the same bytes every time', () => {
    expect(Buffer.from(renderPaper(kind, SAMPLES[kind], OPTIONS)).equals(Buffer.from(pdf))).toBe(true);
  });

  it('changes with its data', () => {
    const other = renderPaper(kind, { ...SAMPLES[kind], jobNumber: 'X-1' }, OPTIONS);
    expect(Buffer.from(other).equals(Buffer.from(pdf))).toBe(false);
  });

  it('is tagged A4 with its title, and carries only the shipped typeface', () => {
    const info = pdfInfo(pdf);
    expect(info.get('Tagged')).toBe('yes');
    expect(info.get('Page size')).toContain('A4');
    expect(info.get('Title')).toContain(SAMPLES[kind].jobNumber);
    const fonts = pdfFonts(pdf);
    expect(fonts.length).toBeGreaterThan(1);
    for (const font of fonts)
      expect(font).toMatchObject({ name: expect.stringContaining('GapwrightSans'), isEmbedded: true });
  });

  it('says on every page that its data are invented, exactly when they are', () => {
    const marks = (b: Uint8Array): number => pdfText(b).split('INVENTED DEMO DATA').length - 1;
    expect(marks(pdf)).toBe(pages(pdf));
    expect(marks(renderPaper(kind, { ...SAMPLES[kind], invented: false }, OPTIONS))).toBe(0);
  });

  it('tells what its numbers rest on', () => {
    expect(text(pdf)).toContain('Starting values from published ranges and common practice; no burns of this shop yet');
  });
});

describe('hostile text', () => {
  const hostile = {
    markup: '#panic() $x$ \\ #import "/etc/passwd" *bold* _it_ `raw` <label> @ref // gone? /* gone? */',
    long: 'W'.repeat(10_000),
    many: 'word '.repeat(2000),
    foreign: 'שלום مرحبا 日本語 🔥👩‍🏭 \u202eabc\u202c',
    markers: '</text><script>alert(1)</script>&amp;"\'',
  };

  it.each(Object.entries(hostile))('%s is printed and does no harm', (name, words) => {
    const quotation = renderPaper(
      'quotation',
      {
        ...SAMPLE_QUOTATION,
        customer: { name: words, contact: words },
        part: { ...SAMPLE_QUOTATION.part, name: words, material: words },
        terms: [words],
      },
      OPTIONS,
    );
    const sheet = renderPaper(
      'set-up-sheet',
      {
        ...SAMPLE_SET_UP_SHEET,
        datum: words,
        drawing: {
          ...SAMPLE_SET_UP_SHEET.drawing,
          keepOuts: [{ id: words, label: words, box: { minX: 0, minY: 0, maxX: 5, maxY: 5 } }],
        },
        startHoles: [{ id: words, at: { x: 1, y: 2 }, diameterMm: 3, features: [words], fromEdge: false }],
        cautions: [words],
      },
      OPTIONS,
    );
    const card = renderPaper(
      'route-card',
      { ...SAMPLE_ROUTE_CARD, operations: [{ ...SAMPLE_ROUTE_CARD.operations[0]!, title: words, touches: [words] }] },
      OPTIONS,
    );
    const letter = renderPaper(
      'letter',
      {
        ...SAMPLE_LETTER,
        customer: { name: words, contact: words, lines: [words] },
        part: { ...SAMPLE_LETTER.part, name: words, drawingFile: words },
        changes: [{ ...SAMPLE_LETTER.changes[0]!, title: words, says: words, places: [words] }],
        places: [{ label: words, says: words }],
      },
      OPTIONS,
    );
    for (const pdf of [quotation, sheet, card, letter]) {
      const found = letters(pdf);
      if (name === 'markup' || name === 'markers') expect(found).toContain(words.replace(/\s+/g, ''));
      else expect(pages(pdf)).toBeGreaterThan(0);
      for (const font of pdfFonts(pdf)) expect(font.name).toContain('GapwrightSans');
    }
    if (name === 'long') expect(letters(quotation).split('W').length - 1).toBeGreaterThanOrEqual(10_000);
  });
});

describe('quotation', () => {
  it('shows no cost to the customer and marks the internal copy', () => {
    const customer = text(renderPaper('quotation', SAMPLE_QUOTATION, OPTIONS));
    const shop = text(renderPaper('quotation', SAMPLE_INTERNAL_QUOTATION, OPTIONS));
    for (const word of ['Loss risk', 'Margin', 'NOT FOR THE CUSTOMER', '427.40']) {
      expect(customer).not.toContain(word);
      expect(shop).toContain(word);
    }
  });

  it('works without anything optional', () => {
    const { validUntil, drawing, delivery, ...rest } = SAMPLE_QUOTATION;
    const { name, material, heightMm, toleranceMm, raUm } = rest.part;
    const bare = renderPaper(
      'quotation',
      {
        ...rest,
        customer: { name: 'Customer' },
        part: { name, material, heightMm, toleranceMm, raUm },
        prices: [],
        drivers: [],
        assumptions: [],
        problems: [],
        asks: [],
        terms: [],
      },
      OPTIONS,
    );
    const words = text(bare);
    expect([validUntil, drawing, delivery].every((x) => x !== undefined)).toBe(true);
    for (const heading of ['Valid until', 'Delivery', 'Terms', 'Open questions', 'undefined', 'null', 'none']) {
      expect(words).not.toContain(heading);
    }
  });
});

describe('long tables', () => {
  it('break across pages and repeat their heads', () => {
    const passes = Array.from({ length: 40 }, (_, i) => ({ ...SAMPLE_SET_UP_SHEET.passes[i % 4]!, pass: i + 1 }));
    const startHoles = Array.from({ length: 150 }, (_, i) => ({
      id: `H${i + 1}`,
      at: { x: i, y: -i },
      diameterMm: 3,
      features: [`F${i + 1}`],
      fromEdge: i % 7 === 0,
    }));
    const pdf = renderPaper('set-up-sheet', { ...SAMPLE_SET_UP_SHEET, passes, startHoles }, OPTIONS);
    const words = pdfText(pdf);
    expect(pages(pdf)).toBeGreaterThanOrEqual(5);
    expect(pages(pdf)).toBeLessThanOrEqual(8);
    expect(words.split(/Hole +X, mm/).length - 1).toBeGreaterThanOrEqual(3);
    for (const id of ['H1', 'H75', 'H150']) expect(words).toMatch(new RegExp(`\\b${id}\\b`));
  });

  it('hold a route of 60 operations', () => {
    const operations = Array.from({ length: 60 }, (_, i) => ({
      ...SAMPLE_ROUTE_CARD.operations[i % 4]!,
      number: 10 * (i + 1),
    }));
    const pdf = renderPaper('route-card', { ...SAMPLE_ROUTE_CARD, operations }, OPTIONS);
    expect(pages(pdf)).toBeGreaterThanOrEqual(3);
    expect(text(pdf)).toContain('600 ');
  });
});

it('prints inches when the data say so', () => {
  const words = text(renderPaper('set-up-sheet', { ...SAMPLE_SET_UP_SHEET, lengthUnit: 'inch' }, OPTIONS));
  expect(words).toContain('Ø 0.0098 in');
  expect(words).toContain('±0.0003 in');
  for (const head of ['X, in', 'Offset, in', 'Feed, in/min', 'Ra, µin', 'Tab, in']) expect(words).toContain(head);
  expect(words).not.toMatch(/[,/] ?mm\b/);
});

it('says when the proof failed or was not run', () => {
  const failed = text(
    renderPaper(
      'set-up-sheet',
      { ...SAMPLE_SET_UP_SHEET, proof: { verdict: 'failed', says: ['Gouge in F2.'] } },
      OPTIONS,
    ),
  );
  expect(failed).toContain('PROOF FAILED: DO NOT RUN');
  expect(failed).not.toContain('PROVEN');
  const none = text(
    renderPaper('set-up-sheet', { ...SAMPLE_SET_UP_SHEET, proof: { verdict: 'not run', says: [] } }, OPTIONS),
  );
  expect(none).toContain('NOT PROVEN');
});

it('refuses numbers that are not finite', () => {
  const broken = { ...SAMPLE_ROUTE_CARD, quantity: Number.POSITIVE_INFINITY };
  expect(() => renderPaper('route-card', broken, OPTIONS)).toThrow('data.quantity is Infinity');
});
