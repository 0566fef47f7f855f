import { type Figure, isDoubtful, isFigure } from './figure.js';
import type { Source } from './source.js';

/** A figure in JSON: self-contained number, with an id under which the whole working stands in the figure table. */
export interface FigureJson {
  readonly id: string;
  readonly value: number;
  readonly unit: string;
  readonly low: number;
  readonly high: number;
  /** Short sentences: the law with the numbers put in, then what it rests on. */
  readonly reasons: readonly string[];
}

/** One row of the figure table. Inputs and sources are ids, so that nothing is said twice. */
export interface WorkingJson {
  readonly value: number;
  readonly unit: string;
  readonly low: number;
  readonly high: number;
  readonly says: string;
  readonly law?: string;
  readonly formula?: string;
  readonly inputs?: Readonly<Record<string, string>>;
  readonly source: string;
  readonly doubts?: Readonly<Record<string, number>>;
  readonly outsideRange?: readonly string[];
}

/** All workings behind a document, by figure id, with the sources they name. */
export interface WorkingTable {
  readonly figures: Readonly<Record<string, WorkingJson>>;
  readonly sources: Readonly<Record<string, Source>>;
}

/** Rounds to `digits` significant digits and drops trailing zeros, for text only. */
export function shortNumber(value: number, digits = 4): string {
  if (value === 0) return '0';
  return String(Number(value.toPrecision(digits)));
}

/** The figure as `12.3 min (9.8 to 15.4)`; the interval is left out for exact figures. */
export function figureText(figure: Pick<Figure, 'value' | 'unit' | 'low' | 'high'>, digits = 4): string {
  const unit = figure.unit === '1' ? '' : ` ${figure.unit}`;
  const interval =
    figure.low === figure.high ? '' : ` (${shortNumber(figure.low, digits)} to ${shortNumber(figure.high, digits)})`;
  return `${shortNumber(figure.value, digits)}${unit}${interval}`;
}

/** One-line reasons of a figure, with the numbers put in. */
export function reasonsOf(figure: Figure): string[] {
  const { reason } = figure;
  if (reason.kind === 'given') return [`${reason.says} [${reason.source.standing}: ${reason.source.title}]`];
  const numbers = Object.entries(reason.inputs)
    .map(([name, input]) => `${name} = ${figureText({ ...input, low: input.value, high: input.value })}`)
    .join(', ');
  const out = [
    `${reason.law.says} ${reason.law.formula}${numbers ? `, with ${numbers}` : ''} [${reason.law.source.standing}: ${reason.law.source.title}]`,
  ];
  for (const outside of reason.outsideRange ?? []) out.push(`Outside the range of the law: ${outside}.`);
  return out;
}

/**
 * Turns a document that holds figures into plain JSON data: each figure becomes a {@link FigureJson} in its place, and
 * every figure behind it gets a row in the table. Ids are stable for the same document; `prefix` begins each of them, so
 * that two documents can be shown beside each other.
 */
export function packFigures(
  document: unknown,
  prefix = 'f',
): { readonly packed: unknown; readonly table: WorkingTable } {
  const ids = new Map<Figure, string>();
  const figures: Record<string, WorkingJson> = {};
  const sources: Record<string, Source> = {};

  const idOf = (figure: Figure): string => {
    const known = ids.get(figure);
    if (known !== undefined) return known;
    const id = `${prefix}${ids.size + 1}`;
    ids.set(figure, id);
    const { reason } = figure;
    const source = reason.kind === 'given' ? reason.source : reason.law.source;
    sources[source.id] = source;
    const base = { value: figure.value, unit: figure.unit, low: figure.low, high: figure.high };
    const doubts = isDoubtful(figure) ? { doubts: figure.doubts } : {};
    if (reason.kind === 'given') {
      figures[id] = { ...base, says: reason.says, source: source.id, ...doubts };
    } else {
      // The row is reserved first, so that ids grow from the asked-for figure towards its sources.
      figures[id] = { ...base, says: reason.law.says, source: source.id };
      const inputs: Record<string, string> = {};
      for (const name in reason.inputs) inputs[name] = idOf(reason.inputs[name]!);
      figures[id] = {
        ...base,
        says: reason.law.says,
        law: reason.law.id,
        formula: reason.law.formula,
        inputs,
        source: source.id,
        ...doubts,
        ...(reason.outsideRange === undefined ? {} : { outsideRange: reason.outsideRange }),
      };
    }
    return id;
  };

  const pack = (value: unknown): unknown => {
    if (isFigure(value)) {
      const { value: number, unit, low, high } = value;
      return { id: idOf(value), value: number, unit, low, high, reasons: reasonsOf(value) };
    }
    if (Array.isArray(value)) return value.map(pack);
    if (typeof value === 'object' && value !== null) {
      const out: Record<string, unknown> = {};
      for (const [key, inner] of Object.entries(value)) out[key] = pack(inner);
      return out;
    }
    return value;
  };
  const packed = pack(document);
  return { packed, table: { figures, sources } };
}
