import { BugError, problem, type Result } from '@gapwright/base';
import type { SheetAnswer } from './sheet-answer.js';

/** Name of the format; the number grows when a field changes its meaning or goes away. */
const DOCUMENT = 'gapwright-sheet-1';

/** The arrays an answer holds, by the name they are kept under. */
const ARRAYS = { float64: Float64Array, float32: Float32Array, uint32: Uint32Array, uint8: Uint8Array } as const;
type ArrayName = keyof typeof ARRAYS;

/**
 * An answer as plain JSON data, to be kept as it was given: arrays of numbers become `{"float64": [ … ]}` and the like.
 * {@link sheetAnswerFromJson} gives the same answer back, number for number.
 */
export function sheetAnswerJson(answer: SheetAnswer): object {
  return { document: DOCUMENT, answer: plain(answer) };
}

/** The answer behind parsed JSON made by {@link sheetAnswerJson}; stop `SHEET-NOT-READABLE` for anything else. */
export function sheetAnswerFromJson(json: unknown): Result<SheetAnswer> {
  const isOurs = isRecord(json) && json.document === DOCUMENT && isRecord(json.answer);
  if (!isOurs || !FIELDS.every((field) => Object.hasOwn(json.answer as object, field))) {
    const what = 'This file is no kept job sheet';
    const fix = `Give one whose "document" is ${DOCUMENT}`;
    return { value: null, problems: [problem({ code: 'SHEET-NOT-READABLE', severity: 'stop', what, fix })] };
  }
  return { value: restored(json.answer) as SheetAnswer, problems: [] };
}

const FIELDS: readonly (keyof SheetAnswer)[] = [
  'questions',
  'drawing',
  'scene',
  'plan',
  'proofs',
  'price',
  'counterOffers',
  'decisions',
  'problems',
  'cautions',
  'standing',
];

function plain(value: unknown): unknown {
  if (typeof value === 'number' && !Number.isFinite(value)) throw new BugError(`a job sheet holds ${value}`);
  if (typeof value !== 'object' || value === null) return value;
  for (const name in ARRAYS) {
    if (value instanceof ARRAYS[name as ArrayName]) return { [name]: Array.from(value as Float64Array, plain) };
  }
  if (Array.isArray(value)) return value.map(plain);
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, inner]) => inner !== undefined)
      .map(([key, inner]) => [key, plain(inner)]),
  );
}

function restored(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(restored);
  if (!isRecord(value)) return value;
  const entries = Object.entries(value);
  const [only] = entries;
  if (entries.length === 1 && only !== undefined && Object.hasOwn(ARRAYS, only[0]) && isNumbers(only[1])) {
    return ARRAYS[only[0] as ArrayName].from(only[1]);
  }
  return Object.fromEntries(entries.map(([key, inner]) => [key, restored(inner)]));
}

function isNumbers(value: unknown): value is number[] {
  return Array.isArray(value) && value.every((v) => typeof v === 'number');
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
