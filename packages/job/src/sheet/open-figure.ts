import {
  allLaws,
  BugError,
  type Figure,
  type FigureJson,
  type Law,
  reasonsOf,
  type Source,
  sumOf,
  type WorkingJson,
  type WorkingTable,
} from '@gapwright/base';
import { doubtShares } from '../why.js';
import { type InputPull, MOST_ROOTS, type OpenedFigure } from './sheet-answer.js';

/** Rows handed over with an opened figure: enough for some levels of working, few enough to be shown at once. */
const MOST_ROWS = 400;

/**
 * Opens one figure of a table: the rows its working needs, nearest first, and by how much each input moves it. Works on
 * the table alone, so a plan that was kept opens like one just made. Null when the table has no such figure.
 */
export function openFigure(table: WorkingTable, id: string): OpenedFigure | null {
  if (!Object.hasOwn(table.figures, id)) return null;
  const row = rowOf(table, id);
  const doubts = doubtShares(row.doubts ?? {});
  return { id, pulls: pullsOf(table, row), roots: rootsOf(table, id), doubts, table: nearTable(table, id) };
}

/** The law is applied again with one input at the ends of its interval, everything else as it is. */
function pullsOf(table: WorkingTable, row: WorkingJson): InputPull[] {
  const law = row.law === undefined ? undefined : lawOf(row.law, row.unit);
  if (law === undefined) return [];
  const inputs = Object.entries(row.inputs ?? {});
  const values = Object.fromEntries(inputs.map(([name, of]) => [name, rowOf(table, of).value]));
  const at = (name: string, value: number): number => {
    const moved = law.evaluate({ ...values, [name]: value });
    // An end of an interval may lie where the law has no answer: then nothing is said of it.
    return Number.isFinite(moved) ? moved : row.value;
  };
  return inputs
    .map(([name, of]): InputPull => {
      const { low, high } = rowOf(table, of);
      return { name, figure: figureJson(table, of), atLow: at(name, low), atHigh: at(name, high) };
    })
    .sort((a, b) => Math.abs(b.atHigh - b.atLow) - Math.abs(a.atHigh - a.atLow));
}

/** The doubtful given numbers behind a figure, each moved to the ends of its interval through the whole working. */
function rootsOf(table: WorkingTable, id: string): InputPull[] {
  const order = inputsFirst(table, id);
  const works = new Map(order.map((of) => [of, rowOf(table, of)]));
  const pulls: InputPull[] = [];
  for (const [root, row] of works) {
    // A law with scatter of its own has its doubt in the law, not in a number somebody could find out.
    if (row.law !== undefined || row.low === row.high || root === id) continue;
    const at = (value: number): number => again(table, order, root, value).get(id) ?? works.get(id)!.value;
    const pull = { atLow: at(row.low), atHigh: at(row.high) };
    if (pull.atLow !== pull.atHigh) pulls.push({ name: row.says, figure: figureJson(table, root), ...pull });
  }
  return pulls.sort((a, b) => Math.abs(b.atHigh - b.atLow) - Math.abs(a.atHigh - a.atLow)).slice(0, MOST_ROOTS);
}

/** Ids behind a figure, inputs before what is made of them, the figure last. */
function inputsFirst(table: WorkingTable, id: string, done = new Set<string>()): string[] {
  if (done.has(id)) return [];
  done.add(id);
  const inputs = Object.values(rowOf(table, id).inputs ?? {});
  return [...inputs.flatMap((of) => inputsFirst(table, of, done)), id];
}

/** The figures that change when one given number does, by id. */
function again(table: WorkingTable, order: readonly string[], root: string, value: number): Map<string, number> {
  const moved = new Map([[root, value]]);
  for (const id of order) {
    const { law: name, unit, inputs = {} } = rowOf(table, id);
    const entries = Object.entries(inputs);
    if (name === undefined || !entries.some(([, of]) => moved.has(of))) continue;
    const numbers = entries.map(([input, of]) => [input, moved.get(of) ?? rowOf(table, of).value]);
    const result = lawOf(name, unit)?.evaluate(Object.fromEntries(numbers));
    if (result !== undefined && Number.isFinite(result)) moved.set(id, result);
  }
  return moved;
}

/** A law by its id. Sums are declared unit by unit when they are first used, so one may have to be declared here. */
function lawOf(id: string, unit: string): Law | undefined {
  const known = allLaws().get(id);
  if (known !== undefined || id !== `sum-${unit}`) return known;
  const nothing: Figure = {
    value: 0,
    unit,
    low: 0,
    high: 0,
    doubts: {},
    reason: { kind: 'given', says: '', source: NONE },
  };
  sumOf({ nothing });
  return allLaws().get(id);
}

const NONE: Source = { id: 'none', title: '', standing: 'computed' };

/** The figure as a document shows it, its reasons in words. */
function figureJson(table: WorkingTable, id: string): FigureJson {
  const { value, unit, low, high } = rowOf(table, id);
  return { id, value, unit, low, high, reasons: reasonsOf(figureOf(table, id, 1)) };
}

/** The figure of a row with its inputs down to `depth`; deeper ones stand as given numbers. */
function figureOf(table: WorkingTable, id: string, depth: number): Figure {
  const row = rowOf(table, id);
  const source = sourceOf(table, row);
  const numbers = { value: row.value, unit: row.unit, low: row.low, high: row.high, doubts: row.doubts ?? {} };
  const law = row.law === undefined || depth === 0 ? undefined : lawOf(row.law, row.unit);
  if (law === undefined) return { ...numbers, reason: { kind: 'given', says: row.says, source } };
  const inputs: Record<string, Figure> = {};
  for (const [name, of] of Object.entries(row.inputs ?? {})) inputs[name] = figureOf(table, of, depth - 1);
  const outsideRange = row.outsideRange === undefined ? {} : { outsideRange: row.outsideRange };
  return { ...numbers, reason: { kind: 'law', law, inputs, ...outsideRange } };
}

/** The rows from a figure towards its sources, nearest first. */
function nearTable(table: WorkingTable, id: string): WorkingTable {
  const figures: Record<string, WorkingJson> = {};
  const sources: Record<string, Source> = {};
  const queue = [id];
  for (let at = 0; at < queue.length && at < MOST_ROWS; at++) {
    const row = rowOf(table, queue[at]!);
    figures[queue[at]!] = row;
    sources[row.source] = sourceOf(table, row);
    for (const of of Object.values(row.inputs ?? {})) if (!queue.includes(of)) queue.push(of);
  }
  return { figures, sources };
}

function rowOf(table: WorkingTable, id: string): WorkingJson {
  const row = Object.hasOwn(table.figures, id) ? table.figures[id] : undefined;
  if (row === undefined) throw new BugError(`figure ${id} has no row in the table`);
  return row;
}

function sourceOf(table: WorkingTable, row: WorkingJson): Source {
  const source = table.sources[row.source];
  if (source === undefined) throw new BugError(`source ${row.source} is not in the table`);
  return source;
}
