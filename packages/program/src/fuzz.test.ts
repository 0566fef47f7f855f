import { type Problem, type Random, seededRandom } from '@gapwright/base';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parsePost } from './parse-post.js';
import type { PostDefinition } from './post-definition.js';
import { readProgram } from './read-program.js';
import { type CanonicalBlock, canonicalWords } from './testing/canonical-words.js';
import { gcodeFixture, millingPost } from './testing/milling-post.js';
import { mutate } from './testing/mutate.js';
import { ISO, OTHER } from './testing/posts.js';
import { randomSteps } from './testing/random-steps.js';
import { writeMotions } from './write-motions.js';
import { writeProgram } from './write-program.js';

/** A text may change unit, and inches are no whole count of mm; eight decimals keep the rewriting this close, mm. */
const REWRITE_MM = 3e-7;
/** Longest time one text may take, ms: many times the usual 0.1 ms, so that a busy machine does not fail the test. */
const LONGEST_MS = 500;

function fine(post: PostDefinition): PostDefinition {
  const { coordinate, feed, offset } = post.numbers;
  const numbers = {
    coordinate: { ...coordinate, decimals: 8 },
    feed: { ...feed, decimals: 8 },
    offset: { ...offset, decimals: 8 },
  };
  // Rounding the rewritten centre must not push an arc accepted at the limit over it.
  const arcs = { ...post.arcs, radiusToleranceMm: post.arcs.radiusToleranceMm + 2 * REWRITE_MM };
  return parsePost({ ...post, numbers, arcs }).value!;
}

function isSame(a: readonly CanonicalBlock[], b: readonly CanonicalBlock[]): boolean {
  return (
    a.length === b.length &&
    a.every(
      (left, i) =>
        left.key === b[i]!.key &&
        left.numbers.length === b[i]!.numbers.length &&
        left.numbers.every((n, k) => Math.abs(n - b[i]!.numbers[k]!) <= REWRITE_MM),
    )
  );
}

/** One stop problem that points into the text. */
function checkProblem(problems: readonly Problem[], text: string): void {
  expect(problems.length).toBe(1);
  const { at, message, severity } = problems[0]!;
  const lines = text.split('\n');
  if (
    severity !== 'stop' ||
    message.length < 20 ||
    !(at!.line! >= 1 && at!.line! <= Math.max(1, lines.length)) ||
    !(at!.column! >= 1 && at!.column! <= (lines[at!.line! - 1] ?? '').length + 1)
  ) {
    throw new Error(`bad problem ${JSON.stringify(problems)} for ${JSON.stringify(text)}`);
  }
}

interface Tally {
  accepted: number;
  changed: number;
  longestMs: number;
  readonly codes: Map<string, number>;
}

function readTimed(text: string, post: PostDefinition, tally: Tally): ReturnType<typeof readProgram> {
  const start = performance.now();
  const result = readProgram(text, post);
  tally.longestMs = Math.max(tally.longestMs, performance.now() - start);
  return result;
}

function fuzz(
  texts: readonly string[],
  post: PostDefinition,
  runs: number,
  random: Random,
  isRewritten: boolean,
): Tally {
  const tally: Tally = { accepted: 0, changed: 0, longestMs: 0, codes: new Map() };
  const finePost = fine(post);
  for (let i = 0; i < runs; i++) {
    const original = texts[i % texts.length]!;
    const text = mutate(original, random);
    const { value, problems } = readTimed(text, post, tally);
    if (value === null) {
      checkProblem(problems, text);
      const { code } = problems[0]!;
      tally.codes.set(code, (tally.codes.get(code) ?? 0) + 1);
      continue;
    }
    expect(problems).toEqual([]);
    tally.accepted++;
    if (!isRewritten) continue;
    // Nothing may be accepted in silence: what was understood, written again, must be the same words.
    const again = writeMotions(value, finePost);
    const before = canonicalWords(text, post);
    const after = canonicalWords(again, finePost);
    if (!isSame(before.blocks, after.blocks) || before.comments !== after.comments) {
      throw new Error(`accepted but not kept:\n${text}\nbecame\n${again}`);
    }
    const reread = readProgram(again, finePost);
    if (reread.value?.length !== value.length) {
      throw new Error(`cannot be read again (${reread.problems[0]?.message}):\n${again}`);
    }
    if (!isSame(before.blocks, canonicalWords(original, post).blocks)) tally.changed++;
  }
  return tally;
}

function programs(post: PostDefinition): string[] {
  return fc
    .sample(randomSteps, { seed: 17, numRuns: 40 })
    .map((steps) => writeProgram(steps, post, { title: 'Fuzz', notes: [] }).value!.text)
    .filter((text) => text.length > 300 && text.length < 2000);
}

describe('broken program text', () => {
  for (const [post, seed] of [
    [ISO, 1],
    [OTHER, 2],
  ] as const) {
    it(`is read or refused, never half understood (10,000 with post "${post.id}")`, () => {
      const tally = fuzz(programs(post), post, 10_000, seededRandom(seed), true);
      expect(tally.longestMs).toBeLessThan(LONGEST_MS);
      // The test would prove nothing if the accidents were all harmless or all fatal.
      expect(tally.accepted).toBeGreaterThan(500);
      expect(tally.changed).toBeGreaterThan(100);
      expect(tally.codes.size).toBeGreaterThan(15);
    }, 120_000);
  }

  it('is read or refused with expressions and parameters too (2,000)', () => {
    const tallies = [
      fuzz([gcodeFixture('c2.ngc')], millingPost('mm', { position: { x: 0, y: 0 } }), 1500, seededRandom(3), false),
      fuzz([gcodeFixture('fixture.nc')], millingPost('inch'), 500, seededRandom(4), false),
    ];
    for (const { accepted, codes, longestMs } of tallies) {
      expect(accepted).toBeGreaterThan(20);
      expect(codes.size).toBeGreaterThan(5);
      expect(longestMs).toBeLessThan(LONGEST_MS);
    }
  });

  it.each([
    ['one endless line of letters', 'X'.repeat(1e6)],
    ['one endless line of words', 'G17 '.repeat(2.5e5)],
    ['an endless number', `G71 G90\nG00 X${'1'.repeat(1e6)}`],
    ['an endless open comment', `(${'a'.repeat(1e6)}`],
    ['only line ends', '\n'.repeat(1e6)],
    ['only spaces', ' '.repeat(1e6)],
    ['many comments in one block', '()'.repeat(2e5)],
  ])('takes bounded time for %s', (_, text) => {
    const tally: Tally = { accepted: 0, changed: 0, longestMs: 0, codes: new Map() };
    expect(readTimed(text, ISO, tally).value).toBeNull();
    expect(tally.longestMs).toBeLessThan(4 * LONGEST_MS);
  });
});
