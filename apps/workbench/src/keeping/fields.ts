import type { FileRef } from '@gapwright/records';
import type { JobState } from './rows.js';

/** A job as a flat list of fields, so that two of them can be compared one field at a time. */
export type Fields = ReadonlyMap<string, unknown>;

/** Fields made of parts that are answered one by one. */
const OPENED = new Set(['offer']);

const isPlainObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

export function fieldsOf(state: JobState): Fields {
  const fields = new Map<string, unknown>();
  for (const [name, value] of Object.entries(state.content)) {
    if (value === undefined) continue;
    if (OPENED.has(name) && isPlainObject(value)) {
      // Without a part answered it is as good as absent.
      for (const [part, inner] of Object.entries(value)) {
        if (inner !== undefined) fields.set(`content.${name}.${part}`, inner);
      }
    } else fields.set(`content.${name}`, value);
  }
  fields.set('stage', state.stage);
  if (state.drawing !== null) fields.set('drawing', state.drawing);
  return fields;
}

/** Puts fields together again; the inverse of `fieldsOf`. */
export function stateFrom(fields: Fields, stage: JobState['stage']): JobState {
  const content: Record<string, unknown> = {};
  for (const [path, value] of fields) {
    const [top, name, part] = path.split('.');
    if (top !== 'content' || name === undefined) continue;
    if (part === undefined) content[name] = value;
    else content[name] = { ...(content[name] as Record<string, unknown> | undefined), [part]: value };
  }
  return {
    content,
    stage: (fields.get('stage') as JobState['stage'] | undefined) ?? stage,
    drawing: (fields.get('drawing') as FileRef | undefined) ?? null,
  };
}

/** JSON equality; the order of an object's fields does not matter. */
export function isSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (Array.isArray(a) && Array.isArray(b)) {
    return a.length === b.length && a.every((value, index) => isSame(value, b[index]));
  }
  if (!isPlainObject(a) || !isPlainObject(b)) return false;
  const names = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...names].every((name) => isSame(a[name], b[name]));
}

/** Names of the fields that differ, sorted. */
export function changedFields(from: Fields, to: Fields): string[] {
  const names = new Set([...from.keys(), ...to.keys()]);
  return [...names].filter((name) => !isSame(from.get(name), to.get(name))).sort();
}

export interface Merged {
  readonly state: JobState;
  /** Fields changed on both sides to different values; `state` holds mine for these. */
  readonly clashes: readonly string[];
  /** Fields taken from their side. */
  readonly taken: readonly string[];
}

/** Takes each side's changes since `base`. */
export function mergeStates(base: JobState, mine: JobState, theirs: JobState): Merged {
  const baseFields = fieldsOf(base);
  const mineFields = fieldsOf(mine);
  const theirFields = fieldsOf(theirs);
  const merged = new Map(mineFields);
  const mineChanged = new Set(changedFields(baseFields, mineFields));
  const clashes: string[] = [];
  const taken: string[] = [];
  for (const name of changedFields(baseFields, theirFields)) {
    if (isSame(mineFields.get(name), theirFields.get(name))) continue;
    if (mineChanged.has(name)) {
      clashes.push(name);
      continue;
    }
    taken.push(name);
    if (theirFields.has(name)) merged.set(name, theirFields.get(name));
    else merged.delete(name);
  }
  return { state: stateFrom(merged, mine.stage), clashes, taken };
}
