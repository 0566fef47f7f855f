import type { Point } from '@gapwright/geometry';
import type { ProgramStep } from '@gapwright/program';
import { closedSkim, openCut, roughCut, skimToTab, type TabStart, tabRough, tabSkim } from './cuts.js';
import { type CutPass, type ShapeLayout, tabMmOf } from './layout.js';
import { shortTour } from './tour.js';
import { type WorkBlock, workBlocks } from './work-order.js';

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

/**
 * Orders all work: group by group from the innermost; in a group first all openings' first passes unattended, then
 * one visit for their tabs and slugs, then their skims; open cuts; outlines with tabs left; last one visit for the parts.
 * A stated order comes before the computed one, see {@link workBlocks}.
 */
export function orderWork(
  layouts: readonly ShapeLayout[],
  passes: readonly (CutPass & { readonly offsetMm: number })[],
  start: Point,
  order?: readonly string[],
): OrderedWork {
  const w: Writer = { steps: [], visits: [], threadings: 0, at: start, level: 0 };
  for (const p of passes) {
    w.steps.push({ kind: 'set-register', register: { number: p.register, offsetMm: p.offsetMm } });
  }
  w.steps.push({ kind: 'fluid', on: true });
  for (const block of workBlocks(layouts, (l) => l.shape, order)) {
    if (block.role === 'opening') workOpenings(w, block, passes);
    else if (block.role === 'open') for (const layout of inTurn(w, block)) workOpenCut(w, layout, passes);
    else workOutlines(w, block, passes);
  }
  w.steps.push({ kind: 'fluid', on: false });
  return { steps: w.steps, threadings: w.threadings, visits: w.visits };
}

type Block = WorkBlock<ShapeLayout>;

/** The work of a block in order: what is listed, then a short tour from there over the rest. */
function inTurn(w: Writer, block: Block, isWanted: (l: ShapeLayout) => boolean = () => true): ShapeLayout[] {
  const listed = block.listed.filter(isWanted);
  const rest = block.rest.filter(isWanted);
  const stops = rest.map((l) => l.entry.from);
  return [...listed, ...shortTour(stops, listed.at(-1)?.entry.from ?? w.at).map((i) => rest[i]!)];
}

const hasTab = (layout: ShapeLayout): boolean => tabMmOf(layout) > 0;

function workOpenings(w: Writer, block: Block, passes: readonly CutPass[]): void {
  const [first, ...skims] = passes;
  for (const layout of inTurn(w, block)) {
    note(w, `${layout.shape.feature.id} pass 1`);
    thread(w, layout);
    cut(w, first!, roughCut(layout, first!));
    // Without a tab the piece is gone and the wire still stands in the start hole: skims follow at once.
    if (!hasTab(layout)) for (const pass of skims) cut(w, pass, closedSkim(layout, pass));
    unthread(w);
  }
  const visit = inTurn(w, block, hasTab);
  if (visit.length === 0) return;
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
  for (const layout of inTurn(w, block, hasTab)) {
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

function workOutlines(w: Writer, block: Block, passes: readonly CutPass[]) {
  const [first, ...skims] = passes;
  const order = inTurn(w, block);
  const isAlone = order.length === 1;
  let ends: TabStart = 'tab';
  for (const layout of order) {
    note(w, `${layout.shape.feature.id} ${hasTab(layout) ? 'all but the tab' : 'whole'}`);
    thread(w, layout);
    cut(w, first!, roughCut(layout, first!));
    // A part that falls free is gone: it has no skims.
    if (!hasTab(layout)) {
      unthread(w);
      continue;
    }
    ends = 'tab';
    for (const pass of skims) {
      cut(w, pass, skimToTab(layout, pass, ends === 'entry'));
      ends = ends === 'entry' ? 'tab' : 'entry';
    }
    if (!isAlone) unthread(w);
  }
  const visit = isAlone ? order.filter(hasTab) : inTurn(w, block, hasTab);
  if (visit.length === 0) return;
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

/** Mass as people say it. */
export function massText(massG: number): string {
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
