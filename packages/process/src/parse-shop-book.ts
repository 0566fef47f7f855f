import { hasStop, type Problem, problem, type Result } from '@gapwright/base';
import type { z } from 'zod';
import { crossCheckShopBook } from './check-shop-book.js';
import { resolveShopBook } from './resolve-shop-book.js';
import type { ShopBook } from './shop-book.js';
import { shopBookSchema } from './shop-book-schema.js';

/** More messages than this help nobody; the rest is counted. */
const MAX_PROBLEMS = 40;

/**
 * Checks a shop book (parsed JSON) and turns its values into figures.
 * Never throws for bad input: each problem names the JSON path and the way out. `value` is null when anything is wrong.
 */
export function parseShopBook(json: unknown): Result<ShopBook> {
  const parsed = shopBookSchema.safeParse(json);
  if (!parsed.success)
    return { value: null, problems: shortened(parsed.error.issues.map((i) => issueProblem(i, json))) };
  const problems = crossCheckShopBook(parsed.data);
  if (hasStop(problems)) return { value: null, problems: shortened(problems) };
  return { value: resolveShopBook(parsed.data), problems };
}

/** `materials[3].densityGPerCm3.value` */
export function pathText(path: readonly PropertyKey[]): string {
  let out = '';
  for (const step of path) {
    if (typeof step === 'number') out += `[${step}]`;
    else out += out === '' ? String(step) : `.${String(step)}`;
  }
  return out === '' ? 'the whole file' : out;
}

function issueProblem(issue: z.core.$ZodIssue, json: unknown): Problem {
  const path = pathText(issue.path);
  const about = nameOnTheWay(issue.path, json);
  return problem({
    code: issue.code === 'unrecognized_keys' ? 'PROCESS-BOOK-UNKNOWN-FIELD' : 'PROCESS-BOOK-FIELD',
    severity: 'stop',
    what: `Shop book, ${path}${about === '' ? '' : ` (${about})`}: ${withoutFullStop(issue.message)}`,
    fix: fixFor(issue),
    at: { field: path },
  });
}

function withoutFullStop(message: string): string {
  return message.replace(/\.$/, '');
}

/** The id of the list entry the path runs through, so that the reader need not count. */
function nameOnTheWay(path: readonly PropertyKey[], json: unknown): string {
  let at = json;
  let name = '';
  for (const step of path) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, step)) break;
    at = (at as Record<PropertyKey, unknown>)[step];
    if (typeof at === 'object' && at !== null && 'id' in at && typeof at.id === 'string') name = at.id.slice(0, 60);
  }
  return name;
}

function fixFor(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'unrecognized_keys':
      return 'Remove the field or correct its spelling';
    case 'too_big':
    case 'too_small':
      return 'Check the number and its unit; the field name states the unit';
    case 'invalid_type':
      return 'Give the missing or wrong value; a number is written { "value": 1.5, "source": "id of a source" }';
    default:
      return 'Correct this entry';
  }
}

function shortened(problems: readonly Problem[]): readonly Problem[] {
  if (problems.length <= MAX_PROBLEMS) return problems;
  return [
    ...problems.slice(0, MAX_PROBLEMS),
    problem({
      code: 'PROCESS-BOOK-MORE',
      severity: 'info',
      what: `${problems.length - MAX_PROBLEMS} more problems in the shop book are not listed`,
      fix: 'Correct the first ones and read the book again',
    }),
  ];
}
