import type { Point } from '@gapwright/geometry';
import type { LengthText } from '../length-text.js';
import { type Frame, roundLength, scaleText } from './frame.js';
import { HALO, INK } from './ink.js';
import { labelWidthMm, SMALL, svgText } from './label.js';
import { line } from './marks.js';
import { svgNumber as n } from './svg-path.js';

/** Longest scale bar, mm on paper. */
const LONGEST_BAR_MM = 34;

/** A bar of a round length in the unit of the paper, half filled, and the scale in words. */
export function scaleBar(at: Point, frame: Frame, text: LengthText): string {
  const perUnitMm = text.unit === 'mm' ? 1 : 25.4;
  const length = roundLength(LONGEST_BAR_MM / (frame.scale * perUnitMm));
  const onPaper = length * perUnitMm * frame.scale;
  const half = onPaper / 2;
  const rect = (x: number, fill: string): string =>
    `<rect x="${n(x)}" y="${n(at.y - 1)}" width="${n(half)}" height="1" fill="${fill}" stroke="${INK}" stroke-width="0.18"/>`;
  const label = `${Number(length.toPrecision(6))} ${text.unit}`;
  return (
    rect(at.x, INK) +
    rect(at.x + half, HALO) +
    svgText({ x: at.x + onPaper + 1.5, y: at.y }, `${label} · scale ${scaleText(frame.scale)}`, SMALL)
  );
}

export interface LegendEntry {
  readonly says: string;
  /** Draws the sample between two points on one height. */
  readonly sample: (from: Point, to: Point) => string;
}

/** Samples with their words in one row, ending at `rightEnd`. */
export function legend(entries: readonly LegendEntry[], rightEnd: Point): string {
  const sampleMm = 7;
  const gapMm = 4;
  const widths = entries.map((e) => sampleMm + 1.2 + labelWidthMm(e.says, SMALL) + gapMm);
  let x = rightEnd.x - widths.reduce((a, b) => a + b, 0) + gapMm;
  const out: string[] = [];
  for (const [i, entry] of entries.entries()) {
    const y = rightEnd.y - 0.8;
    out.push(entry.sample({ x, y }, { x: x + sampleMm, y }));
    out.push(svgText({ x: x + sampleMm + 1.2, y: rightEnd.y }, entry.says, SMALL));
    x += widths[i]!;
  }
  return out.join('');
}

/** A legend entry that is just a line. */
export function lineEntry(says: string, widthMm: number, colour: string, dash?: string): LegendEntry {
  return { says, sample: (a, b) => line(a, b, dash === undefined ? { widthMm, colour } : { widthMm, colour, dash }) };
}
