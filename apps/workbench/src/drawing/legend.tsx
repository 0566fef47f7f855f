import type { Scene } from '@gapwright/job';
import { type LengthUnit, lengthText } from '../units/length.js';
import { lineWeight } from './line-weights.js';
import type { DrawingShow } from './types.js';

export interface LegendProps {
  readonly scene: Scene;
  readonly show: DrawingShow;
  readonly units: LengthUnit;
  readonly toleranceMm: number | null;
  readonly bandFactor: number;
}

interface Entry {
  readonly key: string;
  readonly widthPx: number;
  readonly dashPx: readonly number[];
  readonly tone: string;
  readonly says: string;
}

/** What the lines and signs mean, in words; only what is on this drawing. */
export function Legend({ scene, show, units, toleranceMm, bandFactor }: LegendProps) {
  const lines = lineEntries(scene, show);
  const signs = signWords(scene, show);
  return (
    <details className="drawing-legend">
      <summary>What the lines mean</summary>
      <ul>
        {lines.map((entry) => (
          <li key={entry.key}>
            <svg className={`drawing-sample drawing-tone-${entry.tone}`} viewBox="0 0 40 10" aria-hidden="true">
              <line
                x1="1"
                y1="5"
                x2="39"
                y2="5"
                strokeWidth={entry.widthPx}
                strokeDasharray={entry.dashPx.length > 0 ? entry.dashPx.join(' ') : undefined}
              />
            </svg>
            {entry.says}
          </li>
        ))}
        {signs.map((says) => (
          <li key={says} className="drawing-legend-word">
            {says}
          </li>
        ))}
        {show.band && scene.bands.length > 0 ? (
          <li className="drawing-legend-word">
            Error band, × {bandFactor}: the wall as proved, drawn away from the contour. Outside the contour material is
            left on, inside it is cut into.
            {toleranceMm === null
              ? ''
              : ` The two hairlines are the limits of ± ${lengthText(toleranceMm, units, units === 'mm' ? 4 : 5)}.`}
          </li>
        ) : null}
        {show.erosion && scene.walks.length > 0 ? (
          <li className="drawing-legend-word">
            Shaded: stock that is left. The kerf is as wide as it burns; the ring is the wire with its gap.
          </li>
        ) : null}
      </ul>
    </details>
  );
}

function lineEntries(scene: Scene, show: DrawingShow): Entry[] {
  const entries = new Map<string, Entry>();
  for (const layer of scene.layers) {
    if (!show.passes && (layer.kind === 'pass' || layer.kind === 'lead-in')) continue;
    if (layer.names.length === 0) continue;
    const weight = lineWeight(layer);
    const words = {
      part: 'Part contour',
      reference: 'Other lines on the drawing, not cut',
      pass: layer.pass === 1 ? 'Wire in the rough cut' : `Wire in pass ${layer.pass ?? '?'}`,
      'lead-in': 'Lead-in and lead-out',
      'open end': 'Contour with an open end',
    }[layer.kind];
    const tone = weight.colour === 'needs' ? 'needs' : weight.colour === 'ink' ? 'ink' : 'faint';
    entries.set(words, { key: words, widthPx: weight.widthPx, dashPx: weight.dashPx, tone, says: words });
  }
  return [...entries.values()];
}

function signWords(scene: Scene, show: DrawingShow): string[] {
  const kinds = new Set(scene.marks.map((m) => m.kind));
  const words: string[] = [];
  if (show.marks) {
    if (kinds.has('start hole')) words.push('Circle with centre lines: start hole, with its name and diameter');
    if (scene.marks.some((m) => m.kind === 'start hole' && m.fromEdge))
      words.push('Square with centre lines: start from the edge');
    if (kinds.has('tab')) words.push('Double line across the contour: tab that is left standing');
    if (kinds.has('keep-out')) words.push('Hatched box: keep out (clamps and the like)');
    if (kinds.has('plate')) words.push('Box with a hatched edge: the plate');
    if (kinds.has('datum')) words.push('Filled triangle: datum');
  }
  if (kinds.has('problem'))
    words.push('Diamond with a word: problem; filled where it stops the plan, open where it is to be looked at');
  return words;
}
