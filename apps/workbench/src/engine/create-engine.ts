import type { LoggedBurn, OpenedFigure, SheetPart } from '@gapwright/job';
import { asked, faulted, IDLE, stepped } from './column.js';
import { type AnswerState, COLUMNS_KEPT, type Engine, type SheetInputs } from './engine.js';
import type { FromSheetWorker } from './messages.js';
import { SideLine } from './side-line.js';
import { WorkerLine } from './worker-line.js';

const PLANNER_PARTS: readonly SheetPart[] = ['read', 'planned'];
const PROVER_PARTS: readonly SheetPart[] = ['proven', 'studied', 'weighed'];

/** A proof starts when nothing was asked for this long, so that typing does not start one per letter, ms. */
const PROVE_AFTER_MS = 150;
/** While one question follows the other, a proof would be broken off again and again, and cost the next answer its time. */
const PROVE_AFTER_HURRY_MS = 900;
/** Questions closer than this follow each other, ms. */
const HURRY_MS = 5_000;
/** A prover that has not stopped by then is in the middle of something long and is ended, ms. */
const STOP_WITHIN_MS = 120;

interface Column {
  readonly name: string;
  /** Number of the newest question; older ones are not listened to. */
  id: number;
  inputs: SheetInputs | null;
  state: AnswerState;
  report: ((state: AnswerState) => void) | null;
  proofTimer: ReturnType<typeof setTimeout> | null;
  isProving: boolean;
  /** When the newest question came, and whether it followed close on another. */
  askedAtMs: number;
  isHurried: boolean;
}

/** A planner still at a question nobody waits for by then (a huge drawing) is ended, though it loses what it keeps, ms. */
const PLANNER_STOPS_WITHIN_MS = 2_000;

/** How the engine gets its workers; tests give others. */
export interface EngineWorkers {
  planner(): Worker;
  prover(): Worker;
  side(): Worker;
}

const sheetWorker = (name: string): Worker =>
  new Worker(new URL('./sheet.worker.ts', import.meta.url), { type: 'module', name });

const WORKERS: EngineWorkers = {
  planner: () => sheetWorker('planner'),
  prover: () => sheetWorker('prover'),
  side: () => new Worker(new URL('./side.worker.ts', import.meta.url), { type: 'module', name: 'side' }),
};

/** Starts the engines. Workers start with the first question. */
export function createEngine(workers: EngineWorkers = WORKERS): Engine {
  const columns = new Map<string, Column>();
  const opening = new Map<number, { resolve(figure: OpenedFigure): void; reject(error: Error): void }>();
  let last = 0;

  const columnOf = (id: number): Column | undefined => [...columns.values()].find((c) => c.id === id);

  const show = (column: Column, state: AnswerState): void => {
    column.state = state;
    column.report?.(state);
  };

  const hear = (message: FromSheetWorker): void => {
    if (message.kind === 'opened') {
      const waiting = opening.get(message.id);
      opening.delete(message.id);
      if (message.figure === null) waiting?.reject(new Error('This figure is not in the newest answer.'));
      else waiting?.resolve(message.figure);
      return;
    }
    const column = columnOf(message.id);
    if (column === undefined) return;
    if (message.kind === 'fault') show(column, faulted(column.state, message.says));
    else if (message.kind === 'step') {
      if (message.table !== null) planner.say({ kind: 'table', column: column.name, json: message.table });
      const next = stepped(column.state, message.step);
      // The same drawing read again says nothing new while its plan is on the way; laying it out would only take time.
      if (message.step.done === 'read' && column.state.answer?.plan != null && next.answer?.plan != null)
        column.state = next;
      else show(column, next);
    } else if (!column.isProving && message.hasMore) {
      column.isProving = true;
      column.proofTimer = setTimeout(
        () => startProof(column),
        column.isHurried ? PROVE_AFTER_HURRY_MS : PROVE_AFTER_MS,
      );
    } else {
      column.isProving = false;
      show(column, { ...column.state, working: null, progress: null, isStale: false });
    }
  };

  const failAll = (says: string): void => {
    for (const column of columns.values()) {
      if (column.state.working !== null) show(column, faulted(column.state, says));
    }
    for (const { reject } of opening.values()) reject(new Error(says));
    opening.clear();
  };

  /** Questions the planner works on or has waiting. */
  const atPlanner = new Set<number>();
  const hearPlanner = (message: FromSheetWorker): void => {
    if (message.kind === 'ended' || message.kind === 'fault') atPlanner.delete(message.id);
    hear(message);
  };
  const planner = new WorkerLine(workers.planner, hearPlanner, failAll);
  /** Questions the prover works on or has waiting, in order. */
  const atProver = new Set<number>();
  const hearProver = (message: FromSheetWorker): void => {
    if (message.kind === 'ended' || message.kind === 'fault') atProver.delete(message.id);
    hear(message);
  };
  const prover = new WorkerLine(workers.prover, hearProver, failAll);

  const side = new SideLine(workers.side);

  const startProof = (column: Column): void => {
    column.proofTimer = null;
    if (column.inputs === null) return;
    atProver.add(column.id);
    const question = prover.question(column.inputs);
    prover.say({ kind: 'ask', id: column.id, column: column.name, question, parts: PROVER_PARTS });
  };

  const startPlan = (column: Column): void => {
    if (column.inputs === null) return;
    atPlanner.add(column.id);
    const question = planner.question(column.inputs);
    planner.say({ kind: 'ask', id: column.id, column: column.name, question, parts: PLANNER_PARTS });
  };

  const stopPlan = (id: number): void => {
    if (!atPlanner.has(id)) return;
    planner.say({ kind: 'stop', id });
    setTimeout(() => {
      if (!atPlanner.has(id)) return;
      planner.end();
      const others = [...columns.values()].filter((c) => c.id !== id && atPlanner.has(c.id));
      atPlanner.clear();
      for (const other of others) startPlan(other);
    }, PLANNER_STOPS_WITHIN_MS);
  };

  const stopProof = (id: number): void => {
    if (!atProver.has(id)) return;
    prover.say({ kind: 'stop', id });
    setTimeout(() => {
      if (!atProver.has(id)) return;
      prover.end();
      const others = [...columns.values()].filter((c) => c.id !== id && atProver.has(c.id));
      atProver.clear();
      for (const other of others) startProof(other);
    }, STOP_WITHIN_MS);
  };

  const stop = (column: Column): void => {
    if (column.proofTimer !== null) clearTimeout(column.proofTimer);
    column.proofTimer = null;
    column.isProving = false;
    stopPlan(column.id);
    stopProof(column.id);
    column.id = 0;
    column.inputs = null;
    column.report = null;
  };

  const forgetOldest = (): void => {
    for (const column of columns.values()) {
      if (columns.size <= COLUMNS_KEPT) return;
      if (column.id !== 0) continue;
      columns.delete(column.name);
      planner.say({ kind: 'forget', column: column.name });
    }
  };

  return {
    ask(name, inputs, report) {
      const column = columns.get(name) ?? {
        name,
        id: 0,
        inputs: null,
        state: IDLE,
        report: null,
        proofTimer: null,
        isProving: false,
        askedAtMs: Number.NEGATIVE_INFINITY,
        isHurried: false,
      };
      if (column.id !== 0) stop(column);
      columns.delete(name);
      columns.set(name, column);
      forgetOldest();
      const nowMs = performance.now();
      column.isHurried = nowMs - column.askedAtMs < HURRY_MS;
      column.askedAtMs = nowMs;
      const id = ++last;
      column.id = id;
      column.inputs = inputs;
      column.report = report;
      show(column, asked(column.state));
      startPlan(column);
      return () => {
        if (column.id === id) stop(column);
      };
    },
    open(column, figureId) {
      const id = ++last;
      return new Promise((resolve, reject) => {
        opening.set(id, { resolve, reject });
        planner.say({ kind: 'open', id, column, figureId });
      });
    },
    async openIn(table, figureId) {
      const figure = await side.ask('openIn', { table, figureId });
      if (figure === null) throw new Error('This figure is not in the table.');
      return figure;
    },
    checkBook: (kind, json) => side.ask('checkBook', { kind, json }),
    readEnquiry: (text, bookJson, today) =>
      side.ask('readEnquiry', { text, bookJson, ...(today === undefined ? {} : { today }) }),
    summariseBurns: (burns, bookJson) => side.ask('summariseBurns', { burns: burns.map(loggedBurn), bookJson }),
    importBurns: (bytes, fileName) => side.ask('importBurns', { bytes, fileName }),
    close() {
      for (const column of columns.values()) if (column.id !== 0) stop(column);
      atPlanner.clear();
      atProver.clear();
      planner.end();
      prover.end();
      side.end();
    },
  };
}

/** Only what the summary needs; records hold more. */
function loggedBurn(b: LoggedBurn): LoggedBurn {
  const { day, material, machine, wire, heightMm, level, predictedMin, actualMin } = b;
  return { day, material, machine, wire, heightMm, level, predictedMin, actualMin };
}
