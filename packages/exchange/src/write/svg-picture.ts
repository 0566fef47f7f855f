import { type Box, type Contour, contourBox, type Point, unionBox } from '@gapwright/geometry';
import { numberText, type PictureMap, pathData, toPicture } from './svg-path.js';

/** How heavy a line is drawn; heavier lines lie above lighter ones. */
export type LineWeight = 'hair' | 'thin' | 'medium' | 'heavy';

export interface ContourItem {
  readonly kind: 'contour';
  readonly contour: Contour;
  readonly weight: LineWeight;
  /** Any CSS colour; black when not given. */
  readonly stroke?: string;
  /** Any CSS colour; nothing is filled when not given. */
  readonly fill?: string;
  /** Lengths of dashes and gaps in picture units. */
  readonly dash?: readonly number[];
  /** Shown when the pointer rests on the contour, and read out. */
  readonly title?: string;
}

export interface LabelItem {
  readonly kind: 'label';
  readonly at: Point;
  readonly text: string;
  readonly colour?: string;
  readonly anchor?: 'start' | 'middle' | 'end';
}

export type PictureItem = ContourItem | LabelItem;

export interface PictureOptions {
  /** Size of the picture in its own units (pixels on a screen). */
  readonly width: number;
  readonly height: number;
  /** Free edge around the drawing, same units; 4 % of the shorter side when not given. */
  readonly margin?: number;
  /** Height of labels, same units. */
  readonly labelSize?: number;
  /** Part of the drawing to show, mm; everything when not given. */
  readonly viewMm?: Box;
  /** What the picture shows, for readers who cannot see it. */
  readonly title?: string;
}

/** Stroke widths in picture units, lightest first; the order is that of drawing. */
const STROKE_WIDTHS: readonly (readonly [LineWeight, number])[] = [
  ['hair', 0.5],
  ['thin', 1],
  ['medium', 1.6],
  ['heavy', 2.5],
];

const MARGIN_PART = 0.04;
const LABEL_PART = 0.03;

/** A drawing as an SVG document: contours with exact arcs, scaled to fit, y up, labels on top. */
export function svgPicture(items: readonly PictureItem[], options: PictureOptions): string {
  const { width, height } = options;
  const map = fitMap(options.viewMm ?? itemsBox(items), options);
  const lines = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${numberText(width, 3)} ${numberText(height, 3)}" width="${numberText(width, 3)}" height="${numberText(height, 3)}" role="img">`,
  ];
  if (options.title !== undefined) lines.push(`<title>${escapeText(options.title)}</title>`);
  for (const [weight, strokeWidth] of STROKE_WIDTHS) {
    const drawn = items.filter((i): i is ContourItem => i.kind === 'contour' && i.weight === weight);
    if (drawn.length === 0) continue;
    lines.push(
      `<g fill="none" stroke="black" stroke-width="${strokeWidth}" stroke-linejoin="round" stroke-linecap="round">`,
    );
    for (const item of drawn) lines.push(contourElement(item, map));
    lines.push('</g>');
  }
  const labels = items.filter((i): i is LabelItem => i.kind === 'label');
  if (labels.length > 0) {
    const size = numberText(options.labelSize ?? Math.min(width, height) * LABEL_PART, 3);
    lines.push(`<g font-family="sans-serif" font-size="${size}" dominant-baseline="central">`);
    for (const label of labels) lines.push(labelElement(label, map));
    lines.push('</g>');
  }
  lines.push('</svg>');
  return `${lines.join('\n')}\n`;
}

function contourElement(item: ContourItem, map: PictureMap): string {
  const attributes = [`d="${pathData(item.contour, map)}"`];
  if (item.stroke !== undefined) attributes.push(`stroke="${escapeText(item.stroke)}"`);
  if (item.fill !== undefined) attributes.push(`fill="${escapeText(item.fill)}"`);
  if (item.dash !== undefined)
    attributes.push(`stroke-dasharray="${item.dash.map((d) => numberText(d, 3)).join(' ')}"`);
  const title = item.title === undefined ? null : `<title>${escapeText(item.title)}</title>`;
  return title === null ? `<path ${attributes.join(' ')}/>` : `<path ${attributes.join(' ')}>${title}</path>`;
}

function labelElement(label: LabelItem, map: PictureMap): string {
  const at = toPicture(map, label.at);
  const colour = label.colour === undefined ? '' : ` fill="${escapeText(label.colour)}"`;
  const place = `x="${numberText(at.x, 3)}" y="${numberText(at.y, 3)}"`;
  return `<text ${place} text-anchor="${label.anchor ?? 'start'}"${colour}>${escapeText(label.text)}</text>`;
}

/** The map that shows the box as large as possible in the middle of the picture. */
export function fitMap(box: Box, options: Pick<PictureOptions, 'width' | 'height' | 'margin'>): PictureMap {
  const { width, height } = options;
  const margin = options.margin ?? Math.min(width, height) * MARGIN_PART;
  const across = box.maxX - box.minX;
  const up = box.maxY - box.minY;
  const scales = [];
  if (across > 0) scales.push((width - 2 * margin) / across);
  if (up > 0) scales.push((height - 2 * margin) / up);
  const scale = scales.length === 0 ? 1 : Math.min(...scales);
  return {
    scale,
    originX: width / 2 - ((box.minX + box.maxX) / 2) * scale,
    originY: height / 2 + ((box.minY + box.maxY) / 2) * scale,
  };
}

function itemsBox(items: readonly PictureItem[]): Box {
  let box: Box | null = null;
  for (const item of items) {
    if (item.kind === 'contour' && item.contour.segments.length === 0) continue;
    const own =
      item.kind === 'contour'
        ? contourBox(item.contour)
        : { minX: item.at.x, minY: item.at.y, maxX: item.at.x, maxY: item.at.y };
    box = box === null ? own : unionBox(box, own);
  }
  return box ?? { minX: 0, minY: 0, maxX: 1, maxY: 1 };
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text that is safe between tags and in quoted attributes; characters that XML does not allow are left out. */
export function escapeText(text: string): string {
  let safe = '';
  for (const character of text) if (isXmlCharacter(character.codePointAt(0)!)) safe += ENTITIES[character] ?? character;
  return safe;
}

/** The characters of XML 1.0, production 2. */
function isXmlCharacter(code: number): boolean {
  if (code < 0x20) return code === 0x9 || code === 0xa || code === 0xd;
  return code <= 0xd7ff || (code >= 0xe000 && code <= 0xfffd) || code >= 0x10000;
}
