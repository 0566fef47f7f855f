import type { Point } from '@gapwright/geometry';
import type { Scene } from '@gapwright/job';
import type { KeyboardEvent, RefObject } from 'react';
import type { LengthUnit } from '../units/length.js';
import { isSameSelection, keyboardStops, measureStops } from './marks.js';
import { pointText } from './measure.js';
import type { Playhead } from './playhead.js';
import { SNAP_WORDS, type Snap } from './snap.js';
import type { Stage } from './stage.js';
import type { DrawingSelection } from './types.js';
import { toPlane, toScreen } from './view.js';
import { nextLineMin, nextStop, previousLineMin } from './walk.js';

/** How far one key press moves, CSS pixels; with Shift finely. */
const PAN_PX = 60;
const CROSS_PX = 10;
const FINE_PX = 1;
const ZOOM_STEP = 1.4;

/** What the keyboard points at: a place, and what picking it would select. */
export interface Pointed {
  readonly snap: Snap;
  readonly selection: DrawingSelection | null;
}

export interface KeyContext {
  readonly stage: RefObject<Stage | null>;
  readonly playhead: Playhead;
  readonly scene: Scene | null;
  readonly units: LengthUnit;
  readonly selection: DrawingSelection | null;
  readonly isMeasuring: boolean;
  readonly pointed: Pointed | null;
  readonly point: (pointed: Pointed | null, says: string) => void;
  readonly select: (selection: DrawingSelection | null) => void;
  readonly setMeasuring: (on: boolean) => void;
  readonly addMeasured: (snap: Snap) => void;
  readonly showErosion: () => void;
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** Keys of the focused drawing. True when the key was one of them. */
export function handleKey(event: KeyboardEvent, context: KeyContext): boolean {
  const stage = context.stage.current;
  if (stage === null || event.altKey || event.ctrlKey || event.metaKey) return false;
  const middle = { x: stage.size.width / 2, y: stage.size.height / 2 };
  const arrow = ARROWS[event.key];
  if (arrow !== undefined) {
    if (context.isMeasuring) moveCross(context, stage, arrow, event.shiftKey ? FINE_PX : CROSS_PX);
    else stage.pan(-arrow[0] * PAN_PX, -arrow[1] * PAN_PX);
    return true;
  }
  switch (event.key) {
    case 'f':
      stage.fit();
      return true;
    case '+':
    case '=':
      stage.zoom(focusOf(context, stage, middle), ZOOM_STEP);
      return true;
    case '-':
      stage.zoom(focusOf(context, stage, middle), 1 / ZOOM_STEP);
      return true;
    case 'n':
    case 'p':
      if (context.isMeasuring) stepMeasure(context, stage, event.key === 'n' ? 1 : -1);
      else stepStops(context, stage, event.key === 'n' ? 1 : -1);
      return true;
    case 'm':
      context.setMeasuring(!context.isMeasuring);
      return true;
    case 'Enter':
      return enter(context, stage);
    case 'Escape':
      if (context.isMeasuring) context.setMeasuring(false);
      else if (context.pointed !== null) context.point(null, '');
      else if (context.selection !== null) context.select(null);
      else return false;
      return true;
    default:
      return scrub(event.key, context);
  }
}

/** Zooming by key holds what is pointed at, else the middle. */
function focusOf(context: KeyContext, stage: Stage, middle: Point): Point {
  return context.pointed === null ? middle : toScreen(stage.view, stage.size, context.pointed.snap.at);
}

function enter(context: KeyContext, stage: Stage): boolean {
  const { pointed } = context;
  if (context.isMeasuring) {
    if (pointed === null) return false;
    // A stepped-to point is taken as it is; one reached by arrows holds on to what is near.
    const isExact = pointed.snap.kind !== 'free';
    context.addMeasured(isExact ? pointed.snap : stage.snapAt(toScreen(stage.view, stage.size, pointed.snap.at)));
    return true;
  }
  if (pointed?.selection == null) return false;
  context.select(pointed.selection);
  return true;
}

function moveCross(context: KeyContext, stage: Stage, [dx, dy]: readonly [number, number], stepPx: number): void {
  const from =
    context.pointed === null
      ? { x: stage.size.width / 2, y: stage.size.height / 2 }
      : toScreen(stage.view, stage.size, context.pointed.snap.at);
  const at = toPlane(stage.view, stage.size, { x: from.x + dx * stepPx, y: from.y + dy * stepPx });
  stage.bringIn(at);
  const near = stage.snapAt(toScreen(stage.view, stage.size, at));
  const says = near.kind === 'free' ? '' : `, near: ${SNAP_WORDS[near.kind]}`;
  context.point(
    { snap: { kind: 'free', at, radiusMm: null }, selection: null },
    `${pointText(at, context.units)}${says}`,
  );
}

function stepMeasure(context: KeyContext, stage: Stage, direction: 1 | -1): void {
  if (context.scene === null) return;
  const stops = measureStops(context.scene, context.selection?.feature ?? null);
  if (stops.length === 0) return;
  const { pointed } = context;
  const here =
    pointed === null
      ? -1
      : stops.findIndex(
          (s) => s.kind === pointed.snap.kind && s.at.x === pointed.snap.at.x && s.at.y === pointed.snap.at.y,
        );
  const next = here < 0 && direction < 0 ? stops.length - 1 : (here + direction + stops.length) % stops.length;
  const snap = stops[next]!;
  stage.bringIn(snap.at);
  context.point({ snap, selection: null }, `${SNAP_WORDS[snap.kind]}, ${pointText(snap.at, context.units)}`);
}

function stepStops(context: KeyContext, stage: Stage, direction: 1 | -1): void {
  if (context.scene === null) return;
  const stops = keyboardStops(context.scene, context.units);
  if (stops.length === 0) return;
  const from = context.pointed?.selection ?? context.selection;
  // Several marks may share a name; the place tells which of them is pointed at.
  const at = context.pointed?.snap.at;
  let here = stops.findIndex(
    (s) => at !== undefined && isSameSelection(s.selection, from) && s.at.x === at.x && s.at.y === at.y,
  );
  if (here < 0) here = stops.findIndex((s) => isSameSelection(s.selection, from));
  const next = here < 0 && direction < 0 ? stops.length - 1 : (here + direction + stops.length) % stops.length;
  const stop = stops[next]!;
  stage.bringIn(stop.at);
  context.point(
    { snap: { kind: 'end', at: stop.at, radiusMm: null }, selection: stop.selection },
    `${next + 1} of ${stops.length}: ${stop.says}. Enter picks it.`,
  );
}

function scrub(key: string, { playhead, showErosion }: KeyContext): boolean {
  const { walk } = playhead;
  if (walk === null) return false;
  const goTo = (minute: number | undefined): void => {
    if (minute === undefined) return;
    playhead.pause();
    playhead.goTo(minute);
  };
  switch (key) {
    case ' ':
      if (playhead.isPlaying) playhead.pause();
      else playhead.play();
      break;
    case '.':
      goTo(nextLineMin(walk, playhead.atMin));
      break;
    case ',':
      goTo(previousLineMin(walk, playhead.atMin));
      break;
    case 't':
      goTo(nextStop(walk, playhead.atMin, 1)?.atMin);
      break;
    case 'T':
      goTo(nextStop(walk, playhead.atMin, -1)?.atMin);
      break;
    default:
      return false;
  }
  showErosion();
  return true;
}
