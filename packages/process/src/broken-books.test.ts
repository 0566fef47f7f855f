import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseShopBook } from './parse-shop-book.js';
import { startingBookJson } from './testing/starting-book.js';

type Json = Record<string, unknown>;

/** Every place in a JSON value, as paths. */
function pathsOf(at: unknown, path: readonly (string | number)[] = []): (readonly (string | number)[])[] {
  if (typeof at !== 'object' || at === null) return [path];
  const inner = Array.isArray(at) ? at.map((v, k) => [k, v] as const) : Object.entries(at);
  return [path, ...inner.flatMap(([key, value]) => pathsOf(value, [...path, key]))];
}

/** Damages one place: `put` is written there, or the place is removed when it is `REMOVE`. */
const REMOVE = Symbol('remove');
function damaged(path: readonly (string | number)[], put: unknown): unknown {
  if (path.length === 0) return put === REMOVE ? undefined : put;
  const book: Json = startingBookJson();
  let at: Json = book;
  for (const step of path.slice(0, -1)) at = at[step] as Json;
  const last = path[path.length - 1]!;
  if (put === REMOVE) {
    if (Array.isArray(at)) at.splice(Number(last), 1);
    else delete at[last];
  } else at[last] = put;
  return book;
}

const paths = pathsOf(startingBookJson());

describe('broken shop books', () => {
  it('never crash, and each refusal says where and what to do', () => {
    const bad = fc.constantFrom<unknown>(
      REMOVE,
      null,
      undefined,
      '',
      'x',
      -1,
      0,
      1e300,
      Number.NaN,
      Number.POSITIVE_INFINITY,
      true,
      [],
      {},
      [[[]]],
      { value: '7', source: 'handbook-properties' },
      { value: 7, source: 'nobody' },
      { __proto__: null, toString: 1 },
    );
    let refused = 0;
    fc.assert(
      fc.property(fc.constantFrom(...paths), bad, (path, put) => {
        const { value, problems } = parseShopBook(damaged(path, put));
        if (value !== null) return;
        refused++;
        expect(problems.length).toBeGreaterThan(0);
        for (const p of problems) {
          expect(p.code).toMatch(/^PROCESS-BOOK-/);
          expect(p.message).toMatch(/^(Shop book, .+: .+\. .+\.|\d+ more problems.*)$/s);
        }
        if (path.length > 0) {
          // Some problem must stand near the damage: same top-level part, or a reference to it from elsewhere.
          expect(problems.some((p) => p.at?.field !== undefined)).toBe(true);
        }
      }),
      { numRuns: 400, seed: 20240611 },
    );
    expect(refused).toBeGreaterThan(250);
  });

  it.each<[string, unknown]>([
    ['nothing', undefined],
    ['null', null],
    ['a number', 3],
    ['a text', 'book'],
    ['a list', []],
    ['an empty object', {}],
  ])('refuses %s', (_name, json) => {
    const { value, problems } = parseShopBook(json);
    expect(value).toBeNull();
    expect(problems[0]!.severity).toBe('stop');
  });

  it('limits the length of the list', () => {
    const book = startingBookJson();
    book.materials = Array.from({ length: 200 }, () => ({}));
    const { problems } = parseShopBook(book);
    expect(problems.length).toBe(41);
    expect(problems[40]!.message).toMatch(/more problems in the shop book are not listed/);
  });

  it.each<[string, readonly (string | number)[], unknown, string, RegExp]>([
    [
      'a text for a number',
      ['materials', 1, 'densityGPerCm3', 'value'],
      '7.7',
      'PROCESS-BOOK-FIELD',
      /materials\[1\]\.densityGPerCm3\.value \(D2\).*expected number/,
    ],
    [
      'a density in kg/m3',
      ['materials', 1, 'densityGPerCm3', 'value'],
      7700,
      'PROCESS-BOOK-FIELD',
      /expected number to be <=25.*unit/s,
    ],
    ['a bare number', ['wires', 0, 'tensionN'], 12, 'PROCESS-BOOK-FIELD', /wires\[0\]\.tensionN \(B10\).*"source"/],
    ['an unknown field', ['rules', 'colour'], 'red', 'PROCESS-BOOK-UNKNOWN-FIELD', /rules.*colour.*spelling/s],
    [
      'an unknown source',
      ['rates', 'labourPerH', 'source'],
      'hearsay',
      'PROCESS-BOOK-SOURCE',
      /rates\.labourPerH\.source: source "hearsay" is not listed/,
    ],
    ['a source without title', ['sources', 0, 'title'], '', 'PROCESS-BOOK-FIELD', /sources\[0\]\.title/],
    ['an unknown standing', ['sources', 0, 'standing'], 'certain', 'PROCESS-BOOK-FIELD', /sources\[0\]\.standing/],
    ['a wire nobody has', ['wireMachines', 0, 'wireIds', 0], 'B99', 'PROCESS-BOOK-UNKNOWN-ID', /no wire "B99"/],
    [
      'a caution nobody wrote',
      ['materials', 1, 'cautions', 0],
      'ghosts',
      'PROCESS-BOOK-UNKNOWN-ID',
      /no caution "ghosts"/,
    ],
    [
      'two materials of one name',
      ['materials', 2, 'id'],
      'd2',
      'PROCESS-BOOK-DUPLICATE',
      /"d2" is already materials\[1\]\.id/,
    ],
    ['a level out of order', ['wireLevels', 2, 'level'], 5, 'PROCESS-BOOK-LEVELS', /Number them 1, 2, 3/],
    [
      'a skim coarser than its forerunner',
      ['wireLevels', 2, 'raUm', 'value'],
      3,
      'PROCESS-BOOK-LEVELS',
      /larger than 1\.47/,
    ],
    [
      'a rough level with stock',
      ['wireLevels', 0, 'stockMm'],
      { value: 0.02, source: 'practice-wire' },
      'PROCESS-BOOK-LEVELS',
      /full kerf/,
    ],
    ['a skim without feed', ['wireLevels', 1, 'feedMmPerMin'], null, 'PROCESS-BOOK-LEVELS', /needs a feed/],
    ['heights out of order', ['thicknessFactors', 1, 'heightMm', 'value'], 3, 'PROCESS-BOOK-ORDER', /ascending/],
    ['hole sizes out of order', ['startHoleSizesMm', 1], 0.2, 'PROCESS-BOOK-ORDER', /startHoleSizesMm\[1\]/],
    [
      'no such reference material',
      ['rules', 'referenceMaterialId'],
      'D3',
      'PROCESS-BOOK-UNKNOWN-ID',
      /no material "D3"/,
    ],
    [
      'a reference with another factor',
      ['rules', 'referenceMaterialId'],
      'WC-10Co',
      'PROCESS-BOOK-REFERENCE',
      /relative to it/,
    ],
    [
      'a material without price',
      ['rates', 'materialPricePerKg', 'D2'],
      REMOVE,
      'PROCESS-BOOK-NO-PRICE',
      /no price for material "D2"/,
    ],
    ['another currency', ['currency'], 'USD', 'PROCESS-BOOK-FIELD', /currency.*EUR/],
    [
      'half of the drilling figures',
      ['materials', 1, 'drillWearRatio'],
      null,
      'PROCESS-BOOK-FIELD',
      /only one of drilling feed/,
    ],
    ['a contradicted source', ['sources', 0, 'id'], 'vdi-3400', 'PROCESS-BOOK-SOURCE', /program's own sources/],
    ['tabs the wrong way round', ['rules', 'tabMinMm', 'value'], 9, 'PROCESS-BOOK-ORDER', /shortest tab is longer/],
  ])('names %s', (_name, path, put, code, message) => {
    const { value, problems } = parseShopBook(damaged(path, put));
    expect(value).toBeNull();
    expect(
      problems.some((p) => p.code === code && message.test(p.message)),
      problems.map((p) => `${p.code} ${p.message}`).join('\n'),
    ).toBe(true);
  });
});
