import type { Scene, SceneMark } from '@gapwright/job';
import type { LengthUnit } from '../units/length.js';
import { placeLabels } from './labels.js';
import { layersToDraw, lineWeight } from './line-weights.js';
import { markPoint, markRank, markText, wholeBox } from './marks.js';
import { CENTRE_X, CENTRE_Y, FROM_Y, RADIUS, STRIDE, SWEEP, TO_X, TO_Y } from './segments.js';
import type { DrawingColours } from './types.js';

/** Ink on paper: what a printer gets, whatever the screen's colours are. */
const PRINT_COLOURS: DrawingColours = {
  ink: '#000000',
  faint: '#555555',
  rule: '#bbbbbb',
  ruleStrong: '#888888',
  paper: '#ffffff',
  needs: '#000000',
  proven: '#000000',
};

export interface SvgOptions {
  readonly withPasses: boolean;
  readonly withMarks: boolean;
  readonly operation: number | null;
  readonly units: LengthUnit;
  readonly colours?: DrawingColours;
  /** What it shows, read out where it cannot be seen. */
  readonly title: string;
}

/** A sheet of paper is read as if it were about this many units wide; text and symbols are sized by it. */
const SHEET_UNITS = 720;
const TEXT_UNITS = 10;
/** Paper around the letters, so that lines under a name do not cross it out. */
const HALO_UNITS = 3;
/** Mean width of a letter of a sans serif face as a share of its size. */
const LETTER_SHARE = 0.56;
/** Decimals of mm written: 0.1 µm, below anything the drawing means. */
const DECIMALS = 4;

/** The drawing as an SVG document with exact arcs, for printing and keeping. y is turned over, as SVG counts down. */
export function sceneSvg(scene: Scene, options: SvgOptions): string {
  const colours = options.colours ?? PRINT_COLOURS;
  const marks = options.withMarks ? scene.marks : scene.marks.filter((m) => m.kind === 'problem');
  const box = options.withMarks ? wholeBox(scene) : scene.boxMm;
  const width = Math.max(box.maxX - box.minX, 1e-3);
  const height = Math.max(box.maxY - box.minY, 1e-3);
  const mmPerUnit = Math.max(width, height) / SHEET_UNITS;
  const edge = 24 * mmPerUnit;
  const out: string[] = [
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="${n(box.minX - edge)} ${n(-box.maxY - edge)} ${n(width + 2 * edge)} ${n(height + 2 * edge)}">`,
    `<title>${escapeXml(options.title)}</title>`,
  ];
  for (const index of layersToDraw(scene.layers, options.withPasses, options.operation)) {
    const layer = scene.layers[index]!;
    const weight = lineWeight(layer);
    const dash = weight.dashPx.length > 0 ? ` stroke-dasharray="${weight.dashPx.join(' ')}"` : '';
    out.push(
      `<g fill="none" stroke="${colours[weight.colour]}" stroke-width="${weight.widthPx}"${dash} stroke-linejoin="round">`,
    );
    for (let p = 0; p < layer.paths.starts.length - 1; p++) {
      const d = pathData(layer.paths.values, layer.paths.starts[p]!, layer.paths.starts[p + 1]!);
      if (d !== '') out.push(`<path vector-effect="non-scaling-stroke" d="${d}"/>`);
    }
    out.push('</g>');
  }
  for (const mark of marks) out.push(symbol(mark, colours, mmPerUnit));
  const placement = placeLabels(
    marks.map((mark, i) => {
      const p = markPoint(mark);
      const text = markText(mark, options.units);
      return {
        key: String(i),
        text,
        at: { x: p.x / mmPerUnit, y: -p.y / mmPerUnit },
        clearPx: mark.kind === 'start hole' ? Math.max(4, mark.diameterMm / 2 / mmPerUnit) + 2 : 6,
        widthPx: text.length * TEXT_UNITS * LETTER_SHARE,
        heightPx: TEXT_UNITS * 1.2,
        rank: markRank(mark),
        apartPx: 2,
        places: mark.kind === 'keep-out' ? 'on' : 'around',
      };
    }),
  );
  out.push(
    `<g font-family="sans-serif" font-size="${n(TEXT_UNITS * mmPerUnit)}" fill="${colours.ink}" stroke="${colours.paper}" stroke-width="${n(HALO_UNITS * mmPerUnit)}" stroke-linejoin="round" paint-order="stroke">`,
  );
  for (const { wish, left, top } of placement.placed) {
    out.push(
      `<text x="${n(left * mmPerUnit)}" y="${n((top + TEXT_UNITS) * mmPerUnit)}">${escapeXml(wish.text)}</text>`,
    );
  }
  out.push('</g></svg>');
  return out.join('\n');
}

/** SVG path data of packed segments, arcs as arcs. */
export function pathData(values: Float64Array, first: number, last: number): string {
  let d = '';
  for (let s = first; s < last; s++) {
    const at = s * STRIDE;
    if (s === first) d += `M${n(values[at]!)} ${n(-values[at + FROM_Y]!)}`;
    const r = values[at + RADIUS]!;
    const toX = values[at + TO_X]!;
    const toY = values[at + TO_Y]!;
    if (r === 0) {
      d += `L${n(toX)} ${n(-toY)}`;
      continue;
    }
    const sweep = values[at + SWEEP]!;
    // Turned over, a counter-clockwise arc is still seen counter-clockwise: SVG's sweep flag 0.
    const flag = sweep > 0 ? 0 : 1;
    if (Math.abs(sweep) > Math.PI) {
      // More than half a turn goes in two pieces, which leaves no doubt which way round.
      const cx = values[at + CENTRE_X]!;
      const cy = values[at + CENTRE_Y]!;
      const half = Math.atan2(values[at + FROM_Y]! - cy, values[at]! - cx) + sweep / 2;
      d += `A${n(r)} ${n(r)} 0 0 ${flag} ${n(cx + r * Math.cos(half))} ${n(-(cy + r * Math.sin(half)))}`;
    }
    d += `A${n(r)} ${n(r)} 0 0 ${flag} ${n(toX)} ${n(-toY)}`;
  }
  return d;
}

function symbol(mark: SceneMark, c: DrawingColours, unit: number): string {
  const thin = `fill="none" stroke="${c.ink}" stroke-width="1"`;
  const fixed = 'vector-effect="non-scaling-stroke"';
  switch (mark.kind) {
    case 'plate':
    case 'keep-out': {
      const { minX, minY, maxX, maxY } = mark.box;
      const dash = mark.kind === 'keep-out' ? ' stroke-dasharray="2 2"' : '';
      return `<rect x="${n(minX)}" y="${n(-maxY)}" width="${n(maxX - minX)}" height="${n(maxY - minY)}" ${thin}${dash} ${fixed}/>`;
    }
    case 'start hole': {
      const r = Math.max(3 * unit, mark.diameterMm / 2);
      const reach = r + 3 * unit;
      const { x, y } = mark.at;
      return `<path ${thin} ${fixed} d="M${n(x - reach)} ${n(-y)}h${n(2 * reach)}M${n(x)} ${n(-y - reach)}v${n(2 * reach)}"/><circle cx="${n(x)}" cy="${n(-y)}" r="${n(r)}" ${thin} ${fixed}/>`;
    }
    case 'tab':
      return `<path d="M${n(mark.from.x)} ${n(-mark.from.y)}L${n(mark.to.x)} ${n(-mark.to.y)}" fill="none" stroke="${c.ink}" stroke-width="5" ${fixed}/>`;
    case 'datum': {
      const { x, y } = mark.at;
      return `<path d="M${n(x)} ${n(-y)}l${n(-5 * unit)} ${n(9 * unit)}h${n(10 * unit)}z" fill="${c.ink}"/>`;
    }
    case 'problem': {
      const { x, y } = mark.at;
      const r = 5 * unit;
      return `<path d="M${n(x)} ${n(-y - r)}l${n(r)} ${n(r)}l${n(-r)} ${n(r)}l${n(-r)} ${n(-r)}z" fill="${mark.severity === 'stop' ? c.needs : c.paper}" stroke="${c.needs}" stroke-width="1.2" ${fixed}/>`;
    }
    case 'feature':
      return '';
  }
}

function n(value: number): string {
  return String(Number(value.toFixed(DECIMALS)));
}

function escapeXml(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
}
