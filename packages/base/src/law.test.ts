import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sumOf } from './arithmetic.js';
import { type Figure, given, Z_80 } from './figure.js';
import { apply, defineLaw } from './law.js';
import { quantile, sampleFigures } from './sample.js';
import { BY_DEFINITION, defineSource, STATED_FOR_JOB } from './source.js';

const time = defineLaw({
  id: 'test-time',
  says: 'Time is length over feed.',
  formula: 'length / feed',
  source: BY_DEFINITION,
  inputs: { length: { unit: 'mm', says: 'length' }, feed: { unit: 'mm/min', says: 'feed', valid: [0.1, 50] } },
  output: 'min',
  evaluate: ({ length, feed }) => length / feed,
});
const scattered = defineLaw({
  id: 'test-scattered',
  says: 'Feed as the shop sees it.',
  formula: 'feed',
  source: BY_DEFINITION,
  inputs: { feed: { unit: 'mm/min', says: 'feed' } },
  output: 'mm/min',
  scatter: { relative: 0.3, cause: 'machine' },
  evaluate: ({ feed }) => feed,
});
const length = given(100, 'mm', 'length', STATED_FOR_JOB);
const feed = given(5, 'mm/min', 'feed', STATED_FOR_JOB, { relative: 0.2, cause: 'material:X' });

/** Log-normal half-width of the interval. */
const logSd = (f: Figure): number => Math.log(f.high / f.value) / Z_80;

describe('applying laws', () => {
  test('a ratio keeps the relative doubt of its divisor', () => {
    const t = apply(time, { length, feed });
    expect(t.value).toBe(20);
    expect(logSd(t)).toBeCloseTo(0.2, 6);
  });

  test('the law’s own scatter adds under its own cause, in quadrature', () => {
    const f = apply(scattered, { feed }, 'W1');
    expect(Object.keys(f.doubts).sort()).toEqual(['machine:W1', 'material:X']);
    expect(logSd(f)).toBeCloseTo(Math.hypot(0.2, 0.3), 6);
  });

  test('a shared cause makes a sum wider than independent causes', () => {
    const a = given(10, 'min', 'a', STATED_FOR_JOB, { relative: 0.2, cause: 'material:X' });
    const same = given(10, 'min', 'b', STATED_FOR_JOB, { relative: 0.2, cause: 'material:X' });
    const other = given(10, 'min', 'b', STATED_FOR_JOB, { relative: 0.2, cause: 'material:Y' });
    expect(logSd(sumOf({ a, b: same }))).toBeCloseTo(0.2, 6);
    expect(logSd(sumOf({ a, b: other }))).toBeCloseTo(0.2 / Math.SQRT2, 6);
  });

  test('opposite effects of one cause cancel', () => {
    const ratio = apply(time, {
      length: given(100, 'mm', 'length', STATED_FOR_JOB, { relative: 0.2, cause: 'material:X' }),
      feed,
    });
    expect(logSd(ratio)).toBeLessThan(1e-3);
  });

  test('units are checked and ranges are told', () => {
    expect(() => apply(time, { length: feed, feed })).toThrow(/wants length in mm/);
    const far = apply(time, { length, feed: given(80, 'mm/min', 'feed', STATED_FOR_JOB) });
    expect(far.reason.kind === 'law' && far.reason.outsideRange).toEqual(['feed 80 mm/min lies outside 0.1 to 50']);
    expect(() => apply(time, { length, feed: given(0, 'mm/min', 'feed', STATED_FOR_JOB) })).toThrow(/gave Infinity/);
  });

  test('figures are finite and inside their interval', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 40, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (v, sd) => {
          const t = apply(time, {
            length,
            feed: given(v, 'mm/min', 'feed', STATED_FOR_JOB, { relative: sd, cause: 'm:1' }),
          });
          return Number.isFinite(t.value) && t.low <= t.value && t.value <= t.high && t.low > 0;
        },
      ),
    );
  });
});

describe('sampling', () => {
  test('agrees with the first-order interval when laws are log-linear', () => {
    const t = apply(time, { length, feed: apply(scattered, { feed }, 'W1') });
    const [draws] = sampleFigures([t], 7, 40_000);
    expect(quantile(draws!, 0.1) / t.low).toBeCloseTo(1, 1);
    expect(quantile(draws!, 0.5) / t.value).toBeCloseTo(1, 1);
    expect(quantile(draws!, 0.9) / t.high).toBeCloseTo(1, 1);
  });

  test('the same seed gives the same draws, and shared causes move together', () => {
    const a = apply(time, { length, feed });
    const b = apply(time, { length: given(50, 'mm', 'length', STATED_FOR_JOB), feed });
    const [first, second] = sampleFigures([a, b], 3);
    const [again] = sampleFigures([a], 3);
    expect(again).toEqual(first);
    for (let i = 0; i < 50; i++) expect(second![i]! * 2).toBeCloseTo(first![i]!, 9);
  });
});

test('a source cannot be declared twice with different words', () => {
  defineSource({ id: 'test-source', title: 'A', standing: 'published' });
  expect(() => defineSource({ id: 'test-source', title: 'B', standing: 'published' })).toThrow(/declared twice/);
});

describe('draws of causes', () => {
  test('a cause that is added leaves the draws of the others as they were', () => {
    const source = defineSource({ id: 'draws-test', title: 'made up', standing: 'from memory' });
    const a = given(10, 'mm', 'a', source, { relative: 0.1, cause: 'a' });
    const b = given(20, 'mm', 'b', source, { relative: 0.2, cause: 'b' });
    const [alone] = sampleFigures([a], 5);
    const [, together] = sampleFigures([b, a], 5);
    expect([...together!]).toEqual([...alone!]);
  });

  test('the mean of a log-normal figure comes out as it is known', () => {
    const source = defineSource({ id: 'draws-mean-test', title: 'made up', standing: 'from memory' });
    const a = given(10, 'mm', 'a', source, { relative: 0.3, cause: 'mean' });
    const [draws] = sampleFigures([a], 2);
    const mean = draws!.reduce((sum, v) => sum + v, 0) / draws!.length;
    // exp(0.3^2 / 2) times the median; plain draws would be off by up to 0.7 % in two of three seeds
    expect(mean / (10 * Math.exp(0.045))).toBeCloseTo(1, 2);
  });
});
