import { distanceMm, nearestPoint, type Point, pointAt, type Segment } from '@gapwright/geometry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { motionSegments } from './arc-motion.js';
import type { Motion } from './motion.js';
import type { PostDefinition } from './post-definition.js';
import { readProgram } from './read-program.js';
import type { ProgramStep } from './step.js';
import { ISO, OTHER } from './testing/posts.js';
import { randomSteps } from './testing/random-steps.js';
import { firstDifference, writeProgram } from './write-program.js';

function gridOf(post: PostDefinition): number {
  return (post.unit === 'inch' ? 25.4 : 1) / 10 ** post.numbers.coordinate.decimals;
}

/** Largest distance from sample points of one path to the nearest piece of the other. */
function farthest(path: readonly Segment[], other: readonly Segment[]): number {
  let most = 0;
  for (const s of path) {
    for (const t of [0, 0.13, 0.25, 0.5, 0.75, 0.87, 1]) {
      const p = pointAt(s, t);
      most = Math.max(most, Math.min(...other.map((o) => nearestPoint(o, p).distanceMm)));
    }
  }
  return most;
}

interface CutRead {
  readonly path: Segment[];
  readonly feeds: number[];
  readonly sides: string[];
  readonly registers: number[];
}

/** The cuts of a motion list: everything from compensation on to the line after compensation off. */
function cutsOf(motions: readonly Motion[]): CutRead[] {
  const cuts: CutRead[] = [];
  let open: CutRead | null = null;
  let isClosing = false;
  for (const m of motions) {
    if (m.kind === 'compensation') {
      if (m.side === 'off') isClosing = true;
      else open = { path: [], feeds: [], sides: [m.side], registers: [m.register] };
    } else if (m.kind === 'line' || m.kind === 'arc') {
      open!.path.push(...motionSegments(m));
      open!.feeds.push(m.feedMmPerMin);
      if (isClosing) {
        cuts.push(open!);
        open = null;
        isClosing = false;
      }
    }
  }
  return cuts;
}

function checkLaw(steps: readonly ProgramStep[], post: PostDefinition): void {
  const { value, problems } = writeProgram(steps, post, { title: 'Law', notes: ['one'] });
  expect(problems.filter((p) => p.severity === 'stop')).toEqual([]);
  const motions = readProgram(value!.text, post).value!;
  expect(firstDifference(motions, value!.motions)).toBeNull();
  const gridMm = gridOf(post);
  const wanted = steps.filter((s) => s.kind === 'cut');
  const got = cutsOf(motions);
  expect(got.length).toBe(wanted.length);
  wanted.forEach((cut, i) => {
    const path = [...cut.leadIn, ...cut.path, ...cut.leadOut];
    const read = got[i]!;
    expect([read.sides, read.registers]).toEqual([[cut.side], [cut.register]]);
    // One count across, and the ends' own rounding of 0.71 counts along a corner.
    const allowedMm = 1.75 * gridMm;
    expect(farthest(path, read.path)).toBeLessThan(allowedMm);
    expect(farthest(read.path, path)).toBeLessThan(allowedMm);
    const endMm = distanceMm(read.path.at(-1)!.to, path.at(-1)!.to);
    expect(endMm).toBeLessThanOrEqual(0.7072 * gridMm);
    for (const feed of read.feeds) expect(Math.abs(feed - cut.feedMmPerMin)).toBeLessThan(0.002);
  });
  const offsets = steps.flatMap((s) => (s.kind === 'set-register' ? [s.register.offsetMm] : []));
  const readOffsets = motions.flatMap((m) => (m.kind === 'set-register' ? [m.offsetMm] : []));
  expect(readOffsets.length).toBe(offsets.length);
  offsets.forEach((o, i) => {
    expect(Math.abs(o - readOffsets[i]!)).toBeLessThanOrEqual(gridMm / 2 + 1e-12);
  });
  const kinds = ['thread-wire', 'cut-wire', 'fluid', 'select-level', 'stop'];
  const order = (list: readonly { readonly kind: string }[]) =>
    list.filter((s) => kinds.includes(s.kind)).map((s) => s.kind);
  expect(order(motions)).toEqual(order(steps));
  checkThreadPlaces(steps, motions, gridMm);
}

/** Each threading happens where its step says. */
function checkThreadPlaces(steps: readonly ProgramStep[], motions: readonly Motion[], gridMm: number): void {
  const wanted = steps.flatMap((s) => (s.kind === 'thread-wire' ? [s.at] : []));
  let at: Point = { x: Number.NaN, y: Number.NaN };
  let next = 0;
  for (const m of motions) {
    if ('to' in m) at = m.to;
    if (m.kind === 'thread-wire') expect(distanceMm(at, wanted[next++]!)).toBeLessThanOrEqual(0.7072 * gridMm);
  }
}

describe('read(write(steps)) is the same motion within the last digit', () => {
  for (const post of [ISO, OTHER]) {
    it(`for any steps with post "${post.id}"`, () => {
      fc.assert(
        fc.property(randomSteps, (steps) => checkLaw(steps, post)),
        { numRuns: 500, seed: 6983 },
      );
    });
  }
});
