import type { Point } from '@gapwright/geometry';
import { FAMILY, HALO, INK } from './ink.js';
import { svgNumber } from './svg-path.js';

/** A rectangle on paper, mm. */
export interface Area {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface LabelStyle {
  readonly sizeMm: number;
  readonly isBold: boolean;
  readonly colour: string;
}

export const LABEL: LabelStyle = { sizeMm: 2.6, isBold: true, colour: INK };
export const SMALL: LabelStyle = { sizeMm: 2.2, isBold: false, colour: INK };

/** Longest label on a drawing, characters; the table below it has the whole text. */
const LONGEST = 26;

/** Mean advance of the typeface, in font sizes; regular and semi-bold, measured on capitals and figures. */
const ADVANCE = { regular: 0.58, bold: 0.63 } as const;

const XML: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&apos;' };

/**
 * Text safe inside SVG: escaped, without control characters, cut to the longest label. Characters outside Latin, Greek,
 * Cyrillic and general punctuation become □, since a picture must not borrow typefaces from the machine it is made on.
 */
export function labelText(text: string): string {
  const clean = [...text.replace(/\s+/g, ' ').trim()].map((c) => (isPrintable(c.codePointAt(0)!) ? c : '□'));
  const short = clean.length > LONGEST ? [...clean.slice(0, LONGEST - 1), '…'] : clean;
  return short.map((c) => XML[c] ?? c).join('');
}

/** Unbroken runs of letters and signs in the shipped typeface. */
const PRINTABLE: readonly (readonly [number, number])[] = [
  [0x20, 0x7e],
  [0xa0, 0x148],
  [0x14a, 0x1c3],
  [0x1c5, 0x2ff],
  [0x391, 0x3a1],
  [0x3a3, 0x3e1],
  [0x3f0, 0x49d],
  [0x4a0, 0x4ff],
  [0x2010, 0x2027],
];

function isPrintable(code: number): boolean {
  return PRINTABLE.some(([first, last]) => code >= first && code <= last);
}

export function labelWidthMm(text: string, style: LabelStyle): number {
  const count = Math.min([...text].length, LONGEST);
  return count * style.sizeMm * (style.isBold ? ADVANCE.bold : ADVANCE.regular);
}

/** SVG text; `anchor` is where `at` lies on the base line. */
export function svgText(
  at: Point,
  text: string,
  style: LabelStyle,
  anchor: 'start' | 'middle' | 'end' = 'start',
): string {
  const weight = style.isBold ? ' font-weight="600"' : '';
  return (
    `<text x="${svgNumber(at.x)}" y="${svgNumber(at.y)}" font-family="${FAMILY}" font-size="${style.sizeMm}"` +
    `${weight} fill="${style.colour}" text-anchor="${anchor}">${labelText(text)}</text>`
  );
}

const overlap = (a: Area, b: Area): number =>
  Math.max(0, Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x)) *
  Math.max(0, Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y));

/** Share of a label that another may cover before both become hard to read. */
const LEGIBLE_SHARE = 0.15;

/** Keeps labels apart: each goes to the first of eight places around its point that is free, or the least covered one. */
export class LabelPlacer {
  private readonly taken: Area[] = [];
  private readonly labels: Area[] = [];

  constructor(
    private readonly widthMm: number,
    private readonly heightMm: number,
  ) {}

  /** Marks a place that labels should not cover. */
  block(area: Area): void {
    this.taken.push(area);
  }

  /**
   * A label with a paper-coloured ground, `gapMm` away from its point. On a crowded drawing a label that would make
   * others unreadable is left out (empty text), since a table beside the drawing has it too; `always` keeps it.
   */
  place(
    at: Point,
    text: string,
    style: LabelStyle,
    gapMm: number,
    keep: 'always' | 'if legible' = 'if legible',
  ): string {
    const width = labelWidthMm(text, style) + 0.6;
    const height = style.sizeMm * 1.15;
    const right = at.x + gapMm;
    const left = at.x - gapMm - width;
    const middleX = at.x - width / 2;
    const up = at.y - gapMm - height;
    const down = at.y + gapMm;
    const middleY = at.y - height / 2;
    const corners = [
      [right, middleY],
      [right, up],
      [left, up],
      [right, down],
      [left, down],
      [middleX, up],
      [middleX, down],
      [left, middleY],
    ] as const;
    let best: Area = { x: right, y: middleY, width, height };
    let bestCost = Number.POSITIVE_INFINITY;
    for (const [x, y] of corners) {
      const area = { x, y, width, height };
      const outside = x < 0 || y < 0 || x + width > this.widthMm || y + height > this.heightMm ? width * height : 0;
      const cost = this.taken.reduce((sum, other) => sum + overlap(area, other), outside);
      if (cost < bestCost) {
        best = area;
        bestCost = cost;
      }
      if (cost === 0) break;
    }
    const hidden = this.labels.reduce((sum, other) => sum + overlap(best, other), 0);
    if (keep === 'if legible' && hidden > LEGIBLE_SHARE * width * height) return '';
    return this.draw(best, text, style);
  }

  /** A label in the middle of a box, wherever others are; upright when the box is too narrow for it. */
  centre(box: Area, text: string, style: LabelStyle): string {
    const width = labelWidthMm(text, style) + 0.6;
    const height = style.sizeMm * 1.15;
    const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    if (width <= box.width || box.height <= box.width) {
      return this.draw({ x: at.x - width / 2, y: at.y - height / 2, width, height }, text, style);
    }
    this.block({ x: at.x - height / 2, y: at.y - width / 2, width: height, height: width });
    const flat = drawLabel({ x: -width / 2, y: -height / 2, width, height }, text, style);
    return `<g transform="translate(${svgNumber(at.x)} ${svgNumber(at.y)}) rotate(-90)">${flat}</g>`;
  }

  private draw(area: Area, text: string, style: LabelStyle): string {
    this.block(area);
    this.labels.push(area);
    return drawLabel(area, text, style);
  }
}

/** The text in its area, on a ground of paper so that lines below do not disturb it. */
function drawLabel(area: Area, text: string, style: LabelStyle): string {
  const ground =
    `<rect x="${svgNumber(area.x)}" y="${svgNumber(area.y)}" width="${svgNumber(area.width)}" ` +
    `height="${svgNumber(area.height)}" rx="0.4" fill="${HALO}" fill-opacity="0.85"/>`;
  const baseline = { x: area.x + area.width / 2, y: area.y + area.height * 0.82 };
  return ground + svgText(baseline, text, style, 'middle');
}
