import type { Point } from '@gapwright/geometry';
import type { ProgramStep } from '@gapwright/program';
import { closedSkim, openCut, roughCut, skimToTab, type TabStart, tabRough, tabSkim } from './cuts.js';
import { type CutPass, type ShapeLayout, tabMmOf } from './layout.js';
import type { Shape } from './shape.js';
import { shortTour } from './tour.js';

/** A visit of a person while the machine waits: the pieces that come loose in it, in order. */
interface Visit {
  readonly kind: 'slug' | 'part';
  readonly features: readonly string[];
}

/** The work of one set-up in order. */
export interface OrderedWork {
  readonly steps: readonly ProgramStep[];
  readonly threadings: number;
  readonly visits: readonly Visit[];
}

interface Writer {
  readonly steps: ProgramStep[];
  readonly visits: Visit[];
  threadings: number;
  at: Point;
  level: number;
}

/** Parts nested in slugs come first: an outline at depth 2 lies in the slug of an opening at depth 1. */
export function groupOf(shape: Shape): number {
  return Math.floor(shape.depth / 2);
}

/**
 * Orders all work: group by group from the innermost; in a group first all openings' first passes unattended, then
 * one visit for their tabs and slugs, then their skims; open cuts; outlines with tabs left; last one visit for the parts.
 */
export function orderWork(
  layouts: readonly ShapeLayout[],
  passes: readonly (CutPass & { readonly offsetMm: number })[],
  start: Point,
): OrderedWork {
  const w: Writer = { steps: [], visits: [], threadings: 0, at: start, level: 0 };
  for (const p of passes) {
    w.steps.push({ kind: 'set-register', register: { number: p.register, offsetMm: p.offsetMm } });
  }
  w.steps.push({ kind: 'fluid', on: true });
  const groups = [...new Set(layouts.map((l) => groupOf(l.shape)))].sort((a, b) => b - a);
  for (const group of groups) {
    const inGroup = layouts.filter((l) => groupOf(l.shape) === group);
    workOpenings(w, ofRole(inGroup, 'opening'), passes);
    for (const layout of toured(w, ofRole(inGroup, 'open'))) workOpenCut(w, layout, passes);
    workOutlines(w, ofRole(inGroup, 'outline'), passes);
  }
  w.steps.push({ kind: 'fluid', on: false });
  return { steps: w.steps, threadings: w.threadings, visits: w.visits };
}

function ofRole(layouts: readonly ShapeLayout[], role: 'outline' | 'opening' | 'open'): ShapeLayout[] {
  return layouts.filter((l) => l.shape.feature.role === role);
}

function toured(w: Writer, layouts: readonly ShapeLayout[]): ShapeLayout[] {
  const stops = layouts.map((l) => l.entry.from);
  return shortTour(stops, w.at).map((i) => layouts[i]!);
}

function workOpenings(w: Writer, openings: readonly ShapeLayout[], passes: readonly CutPass[]): void {
  const [first, ...skims] = passes;
  const tabbed = openings.filter((l) => tabMmOf(l) > 0);
  for (const layout of toured(w, openings)) {
    note(w, `${layout.shape.feature.id} pass 1`);
    thread(w, layout);
    cut(w, first!, roughCut(layout, first!));
    // Without a tab the piece is gone and the wire still stands in the start hole: skims follow at once.
    if (tabMmOf(layout) === 0) for (const pass of skims) cut(w, pass, closedSkim(layout, pass));
    unthread(w);
  }
  if (tabbed.length === 0) return;
  const visit = toured(w, tabbed);
  w.visits.push({ kind: 'slug', features: visit.map((l) => l.shape.feature.id) });
  for (const layout of visit) {
    note(w, `${layout.shape.feature.id} tab`);
    thread(w, layout);
    stop(w, holdText(layout));
    cut(w, first!, tabRough(layout, first!, 'hole'));
    unthread(w);
    stop(w, `Take out the slug of ${layout.shape.feature.id}`);
  }
  if (skims.length === 0) return;
  for (const layout of toured(w, tabbed)) {
    note(w, `${layout.shape.feature.id} skims`);
    thread(w, layout);
    for (const pass of skims) cut(w, pass, closedSkim(layout, pass));
    unthread(w);
  }
}

function workOpenCut(w: Writer, layout: ShapeLayout, passes: readonly CutPass[]): void {
  note(w, `${layout.shape.feature.id} open cut`);
  thread(w, layout);
  const { id } = layout.shape.feature;
  if (layout.cutsApart) {
    w.visits.push({ kind: 'part', features: [id] });
    stop(w, `Stay and hold the pieces. The next cut parts the plate along ${id}`);
  }
  for (const pass of passes) cut(w, pass, openCut(layout, pass));
  unthread(w);
}

function workOutlines(w: Writer, outlines: readonly ShapeLayout[], passes: readonly CutPass[]) {
  if (outlines.length === 0) return;
  const [first, ...skims] = passes;
  const isAlone = outlines.length === 1;
  let ends: TabStart = 'tab';
  const order = toured(w, outlines);
  for (const layout of order) {
    note(w, `${layout.shape.feature.id} all but the tab`);
    thread(w, layout);
    cut(w, first!, roughCut(layout, first!));
    ends = 'tab';
    for (const pass of skims) {
      cut(w, pass, skimToTab(layout, pass, ends === 'entry'));
      ends = ends === 'entry' ? 'tab' : 'entry';
    }
    if (!isAlone) unthread(w);
  }
  const visit = isAlone ? order : toured(w, outlines);
  w.visits.push({ kind: 'part', features: visit.map((l) => l.shape.feature.id) });
  for (const layout of visit) {
    note(w, `${layout.shape.feature.id} tab`);
    if (!isAlone) thread(w, layout);
    stop(w, holdText(layout));
    const start = isAlone ? ends : 'hole';
    cut(w, first!, tabRough(layout, first!, start));
    let isForward = start !== 'tab';
    for (const pass of skims) {
      cut(w, pass, tabSkim(layout, pass, isForward));
      isForward = !isForward;
    }
    unthread(w);
    stop(w, `Take out the part ${layout.shape.feature.id}`);
  }
}

function holdText({ shape, slug }: ShapeLayout): string {
  const what = slug?.piece === 'part' ? `the part ${shape.feature.id}` : `the slug of ${shape.feature.id}`;
  const mass = slug === null ? '' : ` (${massText(slug.massG.value)})`;
  const support = slug?.handling === 'tab and support' ? 'Support and hold' : 'Hold';
  return `${support} ${what}${mass}. The next cut frees it`;
}

function massText(massG: number): string {
  return massG >= 1000 ? `${(massG / 1000).toFixed(1)} kg` : `${massG.toFixed(massG < 10 ? 1 : 0)} g`;
}

function note(w: Writer, text: string): void {
  w.steps.push({ kind: 'note', text });
}

function stop(w: Writer, reason: string): void {
  w.steps.push({ kind: 'stop', reason, optional: false });
}

function thread(w: Writer, layout: ShapeLayout): void {
  const at = layout.entry.from;
  w.steps.push({ kind: 'move', to: at }, { kind: 'thread-wire', at });
  w.threadings++;
  w.at = at;
}

function unthread(w: Writer): void {
  w.steps.push({ kind: 'cut-wire' });
}

function cut(w: Writer, pass: CutPass, step: ProgramStep): void {
  if (w.level !== pass.level) {
    w.steps.push({ kind: 'select-level', level: pass.level });
    w.level = pass.level;
  }
  w.steps.push(step);
}
