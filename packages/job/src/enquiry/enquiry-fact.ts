/** What an enquiry may say about a job. */
export type EnquiryField =
  | 'material'
  | 'quantity'
  | 'heightMm'
  | 'raUm'
  | 'toleranceMm'
  | 'wantedDay'
  | 'customer'
  | 'contact'
  | 'enquiry';

/** One thing an enquiry says, and where. Several facts of one field with different values mean that the planner must choose. */
export interface EnquiryFact {
  readonly field: EnquiryField;
  /** In the unit of the field; a day as `YYYY-MM-DD`, a material by its id in the shop book. */
  readonly value: string | number;
  /** The value as it was read, with the rule where one was used, e.g. `Ra 0.8 µm (N6, ISO 1302)`. */
  readonly says: string;
  /** The words it was read from. */
  readonly text: string;
  /** First character of the words in the enquiry, and one past the last. */
  readonly start: number;
  readonly end: number;
}

/** Words found by a rule, before they are put in order. */
export interface Found {
  readonly field: EnquiryField;
  readonly value: string | number;
  readonly says: string;
  readonly start: number;
  readonly end: number;
}

/** All matches of a global pattern with their places. */
export function* matchesOf(
  text: string,
  pattern: RegExp,
): Generator<{ groups: Record<string, string | undefined>; start: number; end: number }> {
  for (const match of text.matchAll(pattern)) {
    yield { groups: match.groups ?? {}, start: match.index, end: match.index + match[0].length };
  }
}

/** A number as people write it, with a decimal point or comma; NaN when it is none. */
export function numberIn(text: string | undefined): number {
  return text === undefined ? Number.NaN : Number(text.replace(',', '.').replace(/\s/g, ''));
}

/** A decimal number with point or comma. */
export const NUMBER = String.raw`\d{1,5}(?:[.,]\d{1,6})?`;
