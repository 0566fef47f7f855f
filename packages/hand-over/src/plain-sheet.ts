import type { SheetAnswer } from '@gapwright/job';

type Packed = Float64Array | Float32Array | Uint32Array | Uint8Array;

/** The same data with plain lists of numbers in place of packed ones. */
export type Plain<T> = T extends Packed
  ? readonly number[]
  : T extends readonly (infer U)[]
    ? readonly Plain<U>[]
    : T extends object
      ? { readonly [K in keyof T]: Plain<T[K]> }
      : T;

/** The answer of a job sheet as it is kept with an offer: JSON data, field by field as in `SheetAnswer`. */
export type PlainSheet = Plain<SheetAnswer>;

/**
 * Turns the packed lists of an answer (lines of the drawing, deviations, the wire's walk) into plain lists, which JSON
 * can hold; `Float64Array.from(list)` and the like turn them back without loss.
 */
export function plainSheet(answer: SheetAnswer): PlainSheet {
  return plain(answer) as PlainSheet;
}

function plain(value: unknown): unknown {
  if (ArrayBuffer.isView(value)) return Array.from(value as Packed);
  if (Array.isArray(value)) return value.map(plain);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, plain(item)]));
}
