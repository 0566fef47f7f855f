import type { Box, Point } from '@gapwright/geometry';
import type { Scene, SceneMark } from '@gapwright/job';
import { type LengthUnit, lengthText } from '../units/length.js';
import { CENTRE_X, CENTRE_Y, pointOn, RADIUS, STRIDE } from './segments.js';
import type { Snap } from './snap.js';
import type { DrawingSelection } from './types.js';

/** The point a mark is found and named at. */
export function markPoint(mark: SceneMark): Point {
  switch (mark.kind) {
    case 'tab':
      return { x: (mark.from.x + mark.to.x) / 2, y: (mark.from.y + mark.to.y) / 2 };
    case 'keep-out':
      return boxMiddle(mark.box);
    case 'plate':
      return { x: mark.box.minX, y: mark.box.maxY };
    default:
      return mark.at;
  }
}

function boxMiddle(box: Box): Point {
  return { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
}

/** Everything there is to see: the drawing with its plate and clamps. */
export function wholeBox(scene: Scene): Box {
  return scene.marks.reduce((box: Box, mark) => {
    const p = markPoint(mark);
    const b = 'box' in mark ? mark.box : { minX: p.x, minY: p.y, maxX: p.x, maxY: p.y };
    return {
      minX: Math.min(box.minX, b.minX),
      minY: Math.min(box.minY, b.minY),
      maxX: Math.max(box.maxX, b.maxX),
      maxY: Math.max(box.maxY, b.maxY),
    };
  }, scene.boxMm);
}

/** What is written beside a mark. */
export function markText(mark: SceneMark, unit: LengthUnit): string {
  if (mark.kind === 'start hole' && !mark.fromEdge) return `${mark.label} ⌀ ${lengthText(mark.diameterMm, unit)}`;
  return mark.label;
}

/** The mark in words, for people who cannot see it. */
export function markWords(mark: SceneMark, unit: LengthUnit): string {
  switch (mark.kind) {
    case 'start hole':
      return mark.fromEdge
        ? `${mark.label}: start from the edge, for ${mark.features.join(', ')}`
        : `${mark.label}: start hole, diameter ${lengthText(mark.diameterMm, unit)}, for ${mark.features.join(', ')}`;
    case 'tab':
      return `${mark.label}: tab of feature ${mark.feature}`;
    case 'keep-out':
      return `${mark.label}: keep out`;
    case 'plate':
      return `${mark.label}: plate`;
    case 'datum':
      return `${mark.label}: datum`;
    case 'feature':
      return `feature ${mark.label}`;
    case 'problem':
      return `${SEVERITY_WORDS[mark.severity]}: ${mark.label}`;
  }
}

const SEVERITY_WORDS = { stop: 'stops the plan', warn: 'look at this', info: 'worth knowing' } as const;

/** What picking the mark selects. */
export function markSelection(mark: SceneMark): DrawingSelection {
  switch (mark.kind) {
    case 'problem':
      return { mark: mark.label, problemCode: mark.code };
    case 'feature':
      return { feature: mark.feature };
    case 'tab':
      return { mark: mark.label, feature: mark.feature };
    default:
      return { mark: mark.label };
  }
}

export function isMarkSelected(mark: SceneMark, selection: DrawingSelection | null): boolean {
  if (selection === null) return false;
  if (mark.kind === 'problem') {
    return selection.problemCode === mark.code && (selection.mark === undefined || selection.mark === mark.label);
  }
  if (mark.kind === 'feature') return selection.feature === mark.feature && selection.mark === undefined;
  return selection.mark === mark.label && selection.problemCode === undefined;
}

/** Rank for the labels: what needs somebody first. */
export function markRank(mark: SceneMark): number {
  switch (mark.kind) {
    case 'problem':
      return mark.severity === 'stop' ? 9 : mark.severity === 'warn' ? 8 : 3;
    case 'datum':
      return 7;
    case 'start hole':
      return 6;
    case 'feature':
      return 5;
    case 'tab':
      return 4;
    default:
      return 2;
  }
}

/** One stop of stepping through the drawing by keyboard. */
export interface Stop {
  readonly selection: DrawingSelection;
  readonly at: Point;
  readonly says: string;
}

/** Everything that can be picked: features in the drawing's order, each at its first point, then marks. */
export function keyboardStops(scene: Scene, unit: LengthUnit): Stop[] {
  const stops: Stop[] = [];
  const seen = new Set<string>();
  for (const layer of scene.layers) {
    if (layer.kind !== 'part' && layer.kind !== 'open end') continue;
    for (let path = 0; path < layer.names.length; path++) {
      const name = layer.names[path]!;
      const first = layer.paths.starts[path]!;
      if (seen.has(name) || first >= layer.paths.starts[path + 1]!) continue;
      seen.add(name);
      stops.push({
        selection: { feature: name },
        at: { x: layer.paths.values[first * STRIDE]!, y: layer.paths.values[first * STRIDE + 1]! },
        says: `feature ${name}`,
      });
    }
  }
  for (const mark of scene.marks) {
    if (mark.kind === 'feature') continue;
    stops.push({ selection: markSelection(mark), at: markPoint(mark), says: markWords(mark, unit) });
  }
  return stops;
}

export function isSameSelection(a: DrawingSelection | null, b: DrawingSelection | null): boolean {
  return a?.feature === b?.feature && a?.mark === b?.mark && a?.problemCode === b?.problemCode;
}

/** Points that measuring by keyboard steps through; drawings with more than this are measured by pointing. */
const MOST_MEASURE_STOPS = 4000;

/** Ends, middles and centres along the contours, of one feature or of all. */
export function measureStops(scene: Scene, feature: string | null): Snap[] {
  const stops: Snap[] = [];
  for (const layer of scene.layers) {
    if (layer.kind !== 'part' && layer.kind !== 'open end') continue;
    const { values, starts } = layer.paths;
    for (let path = 0; path < layer.names.length; path++) {
      if (feature !== null && layer.names[path] !== feature) continue;
      for (let s = starts[path]!; s < starts[path + 1]!; s++) {
        if (stops.length >= MOST_MEASURE_STOPS) return stops;
        const at = s * STRIDE;
        const r = values[at + RADIUS]!;
        const radiusMm = r === 0 ? null : r;
        stops.push(
          { kind: 'end', at: pointOn(values, at, 0), radiusMm },
          { kind: 'middle', at: pointOn(values, at, 0.5), radiusMm },
        );
        if (r !== 0)
          stops.push({ kind: 'centre', at: { x: values[at + CENTRE_X]!, y: values[at + CENTRE_Y]! }, radiusMm });
      }
    }
  }
  return stops;
}
