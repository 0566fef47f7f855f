import type { Box } from '@gapwright/geometry';
import type { LengthText } from '../length-text.js';
import type { Frame } from './frame.js';
import { FAMILY, HALO, INK, INK_SOFT } from './ink.js';
import { labelWidthMm, SMALL, svgText } from './label.js';
import { arrowHead, HELPER, line, paperRect } from './marks.js';
import { svgNumber as n } from './svg-path.js';

/** Distance of the dimension lines from what they measure, mm on paper. */
const AWAY_MM = 6;
/** Length of a dimension's arrow heads; shorter dimensions go without. */
const ARROW_MM = 1.8;

/** Width below and height left of `box`, with helper lines; `below` and `left` are where the whole picture ends. */
export function boxDimensions(box: Box, picture: Box, frame: Frame, text: LengthText): string {
  const part = paperRect(box, frame);
  const all = paperRect(picture, frame);
  const y = all.y + all.height + AWAY_MM;
  const x = all.x - AWAY_MM;
  const right = part.x + part.width;
  const bottom = part.y + part.height;
  const ink = { widthMm: 0.18, colour: INK_SOFT };
  const out: string[] = [
    line({ x: part.x, y: bottom + 1 }, { x: part.x, y: y + 1 }, HELPER),
    line({ x: right, y: bottom + 1 }, { x: right, y: y + 1 }, HELPER),
    line({ x: part.x - 1, y: part.y }, { x: x - 1, y: part.y }, HELPER),
    line({ x: part.x - 1, y: bottom }, { x: x - 1, y: bottom }, HELPER),
    line({ x: part.x, y }, { x: right, y }, ink),
    line({ x, y: part.y }, { x, y: bottom }, ink),
  ];
  if (part.width > 3 * ARROW_MM) {
    out.push(arrowHead({ x: part.x + ARROW_MM / 2, y }, { x: -1, y: 0 }, ARROW_MM, INK_SOFT));
    out.push(arrowHead({ x: right - ARROW_MM / 2, y }, { x: 1, y: 0 }, ARROW_MM, INK_SOFT));
  }
  if (part.height > 3 * ARROW_MM) {
    out.push(arrowHead({ x, y: part.y + ARROW_MM / 2 }, { x: 0, y: -1 }, ARROW_MM, INK_SOFT));
    out.push(arrowHead({ x, y: bottom - ARROW_MM / 2 }, { x: 0, y: 1 }, ARROW_MM, INK_SOFT));
  }
  const width = text.size(box.maxX - box.minX);
  const half = labelWidthMm(width, SMALL) / 2 + 0.8;
  const middle = (part.x + right) / 2;
  out.push(
    `<rect x="${n(middle - half)}" y="${n(y - 1.4)}" width="${n(2 * half)}" height="2.8" fill="${HALO}"/>`,
    svgText({ x: middle, y: y + 0.8 }, width, SMALL, 'middle'),
  );
  const height = text.size(box.maxY - box.minY);
  const halfHeight = labelWidthMm(height, SMALL) / 2 + 0.8;
  const centre = (part.y + bottom) / 2;
  out.push(
    `<rect x="${n(x - 1.4)}" y="${n(centre - halfHeight)}" width="2.8" height="${n(2 * halfHeight)}" fill="${HALO}"/>`,
    `<text transform="translate(${n(x + 0.8)} ${n(centre)}) rotate(-90)" font-family="${FAMILY}" ` +
      `font-size="${SMALL.sizeMm}" fill="${INK}" text-anchor="middle">${height}</text>`,
  );
  return out.join('');
}
