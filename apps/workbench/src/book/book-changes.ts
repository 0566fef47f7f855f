import { Z_80 } from '../units/interval.js';
import { type BookField, LEAVES } from './fields.js';
import { getAt, type JsonPath } from './json-path.js';

/** One difference between two versions of the shop book, in words. */
export interface BookChange {
  readonly leaf: string;
  readonly says: string;
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/** A value of the book as text: `0.03 mm ±15 %`, `B20, B25`, `yes`. */
export function valueWords(value: unknown, field: Pick<BookField, 'unit'>): string {
  const unit = field.unit === undefined ? '' : ` ${field.unit}`;
  if (value === null || value === undefined) return 'none';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return `${value}${unit}`;
  if (Array.isArray(value)) return value.length === 0 ? 'none' : `${value.join(', ')}${unit}`;
  if (isRecord(value) && typeof value.value === 'number') {
    const doubt = typeof value.logSd === 'number' && value.logSd > 0 ? ` ${doubtWords(value.logSd)}` : '';
    return `${value.value}${unit}${doubt}`;
  }
  return typeof value === 'string' ? (value === '' ? 'none' : value) : JSON.stringify(value);
}

/** An 80 % interval as a factor either way: 0.1 on the log scale is `±14 %`. */
export function doubtWords(logSd: number): string {
  return `±${Number((100 * (Math.exp(Z_80 * logSd) - 1)).toPrecision(2))} %`;
}

/** The log standard deviation behind `±percent` at 80 %, and back. */
export function logSdOfPercent(percent: number): number {
  return Number((Math.log(1 + percent / 100) / Z_80).toPrecision(3));
}
export function percentOfLogSd(logSd: number): number {
  return Number((100 * (Math.exp(Z_80 * logSd) - 1)).toPrecision(2));
}

/** What changed from `before` to `after`, leaf by leaf. Empty exactly when the two are equal. */
export function bookChanges(before: unknown, after: unknown): BookChange[] {
  const out: BookChange[] = [];
  for (const leaf of LEAVES) {
    const a = getAt(before, leaf.path);
    const b = getAt(after, leaf.path);
    const tell = (says: string): void => void out.push({ leaf: leaf.title, says });
    if (leaf.shape === 'single') {
      for (const field of leaf.fields) {
        compareField(getAt(a, [field.key]), getAt(b, [field.key]), field, field.label, tell);
      }
    } else if (leaf.shape === 'prices') {
      for (const key of keysOf(a, b)) compareField(getAt(a, [key]), getAt(b, [key]), leaf.fields[0]!, key, tell);
    } else if (leaf.shape === 'sizes') {
      compareField(a, b, leaf.fields[0]!, leaf.fields[0]!.label, tell);
    } else compareLists(asList(a), asList(b), leaf.fields, leaf.rowName ?? 'row', tell);
  }
  if (out.length === 0 && !same(before, after)) {
    out.push({ leaf: 'Whole book', says: 'the order of entries, or entries this page does not show, changed' });
  }
  return out;
}

type Tell = (says: string) => void;

function asList(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

function keysOf(a: unknown, b: unknown): string[] {
  return [...new Set([...Object.keys(isRecord(a) ? a : {}), ...Object.keys(isRecord(b) ? b : {})])].sort();
}

/** Id of a row; rows without one (heights) go by their first value. */
export function rowName(row: unknown, fields: readonly BookField[]): string {
  const first = getAt(row, [fields[0]!.key]);
  return valueWords(isRecord(first) ? first.value : first, fields[0]!);
}

function compareLists(
  a: readonly unknown[],
  b: readonly unknown[],
  fields: readonly BookField[],
  what: string,
  tell: Tell,
): void {
  const before = new Map(a.map((row) => [rowName(row, fields), row]));
  const after = new Map(b.map((row) => [rowName(row, fields), row]));
  for (const [name, row] of after) if (!before.has(name)) tell(`${what} ${name} added${titleOf(row)}`);
  for (const [name, row] of before) {
    const now = after.get(name);
    if (now === undefined) tell(`${what} ${name} removed${titleOf(row)}`);
    else {
      for (const field of fields) {
        compareField(
          getAt(row, [field.key]),
          getAt(now, [field.key]),
          field,
          `${name}, ${lowerFirst(field.label)}`,
          tell,
        );
      }
    }
  }
}

function titleOf(row: unknown): string {
  const title = getAt(row, ['name']) ?? getAt(row, ['title']);
  return typeof title === 'string' ? ` (${title})` : '';
}

function compareField(a: unknown, b: unknown, field: BookField, name: string, tell: Tell): void {
  if (same(a, b)) return;
  const was = valueWords(a, field);
  const is = valueWords(b, field);
  if (was !== is) tell(`${name}: ${was} became ${is}${shareWords(a, b)}`);
  for (const [part, label] of [
    ['source', 'source'],
    ['note', 'note'],
  ] as const) {
    const from = getAt(a, [part]);
    const to = getAt(b, [part]);
    if (isRecord(a) && isRecord(b) && from !== to) tell(`${name}, ${label}: ${from ?? 'none'} became ${to ?? 'none'}`);
  }
}

function shareWords(a: unknown, b: unknown): string {
  const from = isRecord(a) ? a.value : a;
  const to = isRecord(b) ? b.value : b;
  if (typeof from !== 'number' || typeof to !== 'number' || from === 0 || from === to) return '';
  const share = to / from - 1;
  return ` (${share > 0 ? '+' : '−'}${Number((Math.abs(share) * 100).toPrecision(3))} %)`;
}

function lowerFirst(text: string): string {
  return /^[A-Z][a-z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

/** The entry a path leads to, in words: `Materials, D2, density`. */
export function placeWords(path: JsonPath, book: unknown): string {
  const leaf = LEAVES.filter((l) => l.path.every((step, i) => path[i] === step)).sort(
    (a, b) => b.path.length - a.path.length,
  )[0];
  if (leaf === undefined) return path.join(', ');
  const rest = path.slice(leaf.path.length);
  const words = [leaf.title];
  let fields = rest;
  if (leaf.shape === 'list' && rest[0] !== undefined) {
    words.push(rowName(getAt(book, [...leaf.path, rest[0]]), leaf.fields));
    fields = rest.slice(1);
  }
  const field = leaf.fields.find((f) => f.key === fields[0]);
  if (field !== undefined) words.push(lowerFirst(field.label));
  else if (fields[0] !== undefined) words.push(String(fields[0]));
  return words.join(', ');
}
