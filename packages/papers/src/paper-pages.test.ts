import { describe, expect, it, vi } from 'vitest';
import { liftLabels } from './drawing/lift-labels.js';
import { type PaperData, type PaperKind, renderPaper, renderPaperPages } from './render-paper.js';
import { svgPages } from './svg-pages.js';
import { pdfInfo, pdfText } from './testing/pdf-text.js';
import { SAMPLE_QUOTATION, SAMPLE_ROUTE_CARD, SAMPLE_SET_UP_SHEET } from './testing/sample-data.js';
import { SAMPLE_LETTER } from './testing/sample-letter.js';

// Setting a page takes a tenth of a second; on a machine busy with other tests, ten times that.
vi.setConfig({ testTimeout: 120_000 });

const SAMPLES: PaperData = {
  quotation: SAMPLE_QUOTATION,
  'set-up-sheet': SAMPLE_SET_UP_SHEET,
  'route-card': SAMPLE_ROUTE_CARD,
  letter: SAMPLE_LETTER,
};
const KINDS = Object.keys(SAMPLES) as PaperKind[];
const glyphs = (page: string): number => page.split('<use ').length - 1;

describe.each(KINDS)('%s on a screen', (kind) => {
  const data = SAMPLES[kind];
  const pages = renderPaperPages(kind, data);
  const pdf = renderPaper(kind, data, { createdAtS: 0 });

  it('has the pages of the PDF, each A4, and is the same text every time', () => {
    expect(pages.length).toBe(Number(pdfInfo(pdf).get('Pages')));
    for (const [i, page] of pages.entries()) {
      expect(page).toContain('width="595.276pt" height="841.89pt" viewBox="0 0 595.276 841.89"');
      expect(page).toContain(`${data.jobNumber}, page ${i + 1} of ${pages.length}</title>`);
    }
    expect(renderPaperPages(kind, data)).toEqual(pages);
  });

  it('draws every letter that the PDF prints, as an outline', () => {
    const inPdf = pdfText(pdf).replace(/\s+/g, '').length;
    expect(pages.reduce((sum, page) => sum + glyphs(page), 0)).toBe(inPdf);
  });

  it('stands by itself', () => {
    for (const page of pages) {
      expect(page).not.toMatch(/<(script|style|foreignObject|image|text|a|iframe|!)\b/);
      expect(page).not.toMatch(/ on\w+=|style=|class=|xlink|data:|url\(/);
      const links = [...page.matchAll(/href="([^"]*)"/g)].map((m) => m[1]!);
      expect(links.every((link) => link.startsWith('#'))).toBe(true);
      const ids = new Set([...page.matchAll(/ id="([^"]*)"/g)].map((m) => `#${m[1]}`));
      expect(ids).toEqual(new Set(links));
      const opened = page.match(/<[a-zA-Z](?:[^>]*[^/])?>/g)!.length;
      expect(page.match(/<\//g)!.length).toBe(opened);
    }
  });
});

it('hostile text stays letters', () => {
  for (const words of [
    '</svg><script>alert(1)</script>&amp;"\'',
    '#image("x.png") $x$',
    'שלום \u202eabc 🔥',
    'W'.repeat(5000),
  ]) {
    const pages = renderPaperPages('set-up-sheet', {
      ...SAMPLE_SET_UP_SHEET,
      jobNumber: words,
      drawing: {
        ...SAMPLE_SET_UP_SHEET.drawing,
        keepOuts: [{ id: words, label: words, box: { minX: 0, minY: 0, maxX: 5, maxY: 5 } }],
      },
      cautions: [words],
    });
    for (const page of pages) expect(page).not.toMatch(/<(script|image|text)\b/);
    expect(pages.reduce((sum, page) => sum + glyphs(page), 0)).toBeGreaterThan(1000);
  }
});

it('takes texts out of a picture where they stand', () => {
  const flat = '<text x="3" y="4" font-family="F" font-size="2.2" fill="#111" text-anchor="end">a &lt; b</text>';
  const turned = `<g transform="translate(10 20) rotate(-90)"><rect/>${flat}</g>`;
  const { svg, labels } = liftLabels(`<svg>${turned}${flat}</svg>`);
  expect(svg).toBe('<svg><g transform="translate(10 20) rotate(-90)"><rect/></g></svg>');
  const common = { anchor: 'end', sizeMm: 2.2, isBold: false, colour: '#111', says: 'a < b' };
  expect(labels).toEqual([
    // A quarter turn to the left: 3 to the right becomes 3 up, 4 down becomes 4 to the right.
    { ...common, x: 14, y: 17, isUpright: true },
    { ...common, x: 3, y: 4, isUpright: false },
  ]);
  expect(() => liftLabels('<svg><text transform="scale(2)" font-size="1" fill="#111">x</text></svg>')).toThrow(
    'scale(2)',
  );
});

it('refuses pages of a shape it does not know', () => {
  const page = (body: string): string => `<svg viewBox="0 0 10 20">\n    <g>\n        ${body}\n    </g>\n</svg>`;
  expect(svgPages(page('<path d="M 0 0"/>'), 1, 't')[0]).toContain('<path d="M 0 0"/>');
  expect(() => svgPages(page('<image href="http://x"/>'), 1, 't')).toThrow('holds <image>');
  expect(() => svgPages(page('<use href="#a"/>'), 1, 't')).toThrow('refers to a');
  expect(() => svgPages(page('<path d="M 0 0"/>'), 2, 't')).toThrow('1 pages were drawn of 2');
});
