import { line, type Point, reverseSegment } from '@gapwright/geometry';
import type { ProgramStep } from '@gapwright/program';
import { pathAlong, placeAt } from './contour-walk.js';
import { type CutPass, type ShapeLayout, tabMmOf } from './layout.js';

export type CutStep = Extract<ProgramStep, { kind: 'cut' }>;

/** A stretch of a contour to cut: from arc length `s`, `lengthMm` on or back, entered from and left to given points. */
interface Stretch {
  readonly s: number;
  readonly lengthMm: number;
  readonly isForward: boolean;
  readonly from: Point;
  readonly to: Point;
}

/** The part is left of a contour's travel, so the wire runs right of it going forward and left of it going back. */
function cutStretch({ shape }: ShapeLayout, pass: CutPass, stretch: Stretch): CutStep {
  const { s, lengthMm, isForward } = stretch;
  const path = isForward
    ? pathAlong(shape.walk, s, lengthMm)
    : pathAlong(shape.walk, s - lengthMm, lengthMm)
        .map(reverseSegment)
        .reverse();
  return {
    kind: 'cut',
    feature: shape.feature.id,
    pass: pass.pass,
    side: isForward ? 'right' : 'left',
    register: pass.register,
    feedMmPerMin: pass.feedMmPerMin,
    leadIn: [line(stretch.from, path[0]!.from)],
    path,
    leadOut: [line(path[path.length - 1]!.to, stretch.to)],
  };
}

/** The point in the waste where a lead-out from arc length `s` ends. */
function outPoint(layout: ShapeLayout, s: number): Point {
  const { at, tangent } = placeAt(layout.shape.walk, s);
  return { x: at.x + tangent.y * layout.outMm, y: at.y - tangent.x * layout.outMm };
}

/** Arc lengths of the tab and of the places past its ends, and the start hole. */
function marks(layout: ShapeLayout) {
  const entryS = layout.entry.place.s;
  const tabS = entryS - tabMmOf(layout);
  return {
    entryS,
    tabS,
    beforeS: tabS - layout.entry.ends.overlapMm,
    afterS: entryS + layout.entry.ends.overlapMm,
    hole: layout.entry.from,
  };
}

/** First pass from the start hole: all round but the tab, or all round and back along the lead-in when there is none. */
export function roughCut(layout: ShapeLayout, pass: CutPass): CutStep {
  const { entryS, tabS, hole } = marks(layout);
  const tabMm = tabMmOf(layout);
  return cutStretch(layout, pass, {
    s: entryS,
    lengthMm: layout.shape.walk.lengthMm - tabMm,
    isForward: true,
    from: hole,
    to: tabMm > 0 ? outPoint(layout, tabS) : hole,
  });
}

/** Skim all round with overlap, from the start hole and back to it. */
export function closedSkim(layout: ShapeLayout, pass: CutPass): CutStep {
  const { entryS, hole } = marks(layout);
  const lengthMm = layout.shape.walk.lengthMm + layout.entry.ends.closeMm;
  return cutStretch(layout, pass, { s: entryS, lengthMm, isForward: true, from: hole, to: hole });
}

/** Skim of all but the tab, without rethreading: back from the tab (`isForward` false) or on from the entry. */
export function skimToTab(layout: ShapeLayout, pass: CutPass, isForward: boolean): CutStep {
  const { entryS, tabS } = marks(layout);
  const atEntry = outPoint(layout, entryS);
  const atTab = outPoint(layout, tabS);
  const lengthMm = layout.shape.walk.lengthMm - tabMmOf(layout);
  return isForward
    ? cutStretch(layout, pass, { s: entryS, lengthMm, isForward, from: atEntry, to: atTab })
    : cutStretch(layout, pass, { s: tabS, lengthMm, isForward, from: atTab, to: atEntry });
}

/** Where the wire stands when a tab is about to be cut. */
export type TabStart = 'hole' | 'entry' | 'tab';

/** The cut that frees the piece: over the tab and a little past its far end. */
export function tabRough(layout: ShapeLayout, pass: CutPass, start: TabStart): CutStep {
  const { entryS, tabS, beforeS, afterS, hole } = marks(layout);
  const lengthMm = tabMmOf(layout) + layout.entry.ends.overlapMm;
  if (start === 'tab') {
    const to = outPoint(layout, afterS);
    return cutStretch(layout, pass, { s: tabS, lengthMm, isForward: true, from: outPoint(layout, tabS), to });
  }
  const from = start === 'hole' ? hole : outPoint(layout, entryS);
  return cutStretch(layout, pass, { s: entryS, lengthMm, isForward: false, from, to: outPoint(layout, beforeS) });
}

/** A skim over the tab's stretch and past both its ends. */
export function tabSkim(layout: ShapeLayout, pass: CutPass, isForward: boolean): CutStep {
  const { beforeS, afterS } = marks(layout);
  const lengthMm = afterS - beforeS;
  const before = outPoint(layout, beforeS);
  const after = outPoint(layout, afterS);
  return isForward
    ? cutStretch(layout, pass, { s: beforeS, lengthMm, isForward, from: before, to: after })
    : cutStretch(layout, pass, { s: afterS, lengthMm, isForward, from: after, to: before });
}

/** A pass over an open contour; odd passes run forward from the start hole, even ones back. */
export function openCut(layout: ShapeLayout, pass: CutPass): CutStep {
  const { walk } = layout.shape;
  const start = placeAt(walk, 0);
  const end = placeAt(walk, walk.lengthMm);
  const ahead = besides(start.at, start.tangent, -layout.outMm, layout.outMm);
  const beyond = besides(end.at, end.tangent, layout.outMm, layout.outMm);
  const isForward = pass.pass % 2 === 1;
  const atStart = pass.pass === 1 ? layout.entry.from : ahead;
  return isForward
    ? cutStretch(layout, pass, { s: 0, lengthMm: walk.lengthMm, isForward, from: atStart, to: beyond })
    : cutStretch(layout, pass, { s: walk.lengthMm, lengthMm: walk.lengthMm, isForward, from: beyond, to: ahead });
}

/** The point so far along the direction of travel and so far into the waste on its right. */
function besides(at: Point, tangent: Point, alongMm: number, wasteMm: number): Point {
  return {
    x: at.x + tangent.x * alongMm + tangent.y * wasteMm,
    y: at.y + tangent.y * alongMm - tangent.x * wasteMm,
  };
}
