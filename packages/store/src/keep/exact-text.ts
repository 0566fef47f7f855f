import { isDeepStrictEqual } from 'node:util';
import { Refusal } from '../refusal.js';

/** NUL has no place in text columns, and half a surrogate pair would come back as another character. */
const NOT_TEXT = /\0|\p{Surrogate}/u;

/** Refuses text that the database would not give back exactly. */
export function checkText(fields: Readonly<Record<string, string | null>>): void {
  for (const [field, text] of Object.entries(fields)) {
    if (text === null || !NOT_TEXT.test(text)) continue;
    throw new Refusal('STORE-BAD-TEXT', `Field ${field} holds characters that are no text`, 'Type it again');
  }
}

/** JSON text that reads back as the same value; refuses what JSON would change silently. */
export function exactJson(value: unknown, field: string): string {
  return JSON.stringify(value, (key, part: unknown) => {
    const isLost =
      (typeof part === 'number' && !Number.isFinite(part)) || ['bigint', 'function', 'symbol'].includes(typeof part);
    if (!isLost) return part;
    throw new Refusal(
      'STORE-BAD-TEXT',
      `Field ${field}: ${key} is ${String(part)}, which JSON cannot hold`,
      'Send plain JSON data',
    );
  });
}

/** True when two records are the same as JSON, whatever the order of their keys. */
export function isSameJson(a: unknown, b: unknown): boolean {
  return isDeepStrictEqual(JSON.parse(JSON.stringify(a)), JSON.parse(JSON.stringify(b)));
}
