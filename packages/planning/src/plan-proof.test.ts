import { readFileSync } from 'node:fs';
import type { Contour } from '@gapwright/geometry';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import { parsePost, writeProgram } from '../../program/src/index.js';
import { proveProgram } from '../../proof/src/index.js';
import type { Plan } from './plan.js';
import { planWire } from './plan-wire.js';
import { proofSetupOf } from './proof-setup.js';
import { circle, plainRequest, polygon, rectangle, roundedRectangle, toothed } from './testing/drawings.js';

const book = startingBook();
const post = finePost();

/** The shipped post with coordinates to 0.1 µm, so that rounding of text hides nothing. */
function finePost() {
  const json = JSON.parse(readFileSync(new URL('../../../shop/posts/iso-6983.json', import.meta.url), 'utf8'));
  json.numbers.coordinate.decimals = 4;
  json.numbers.offset.decimals = 4;
  const { value, problems } = parsePost(json);
  if (value === null) throw new Error(problems.map((p) => p.message).join('\n'));
  return value;
}

function star(points: number, outerMm: number, innerMm: number, x = 0, y = 0): Contour {
  return polygon(
    ...Array.from({ length: 2 * points }, (_, k): [number, number] => {
      const r = k % 2 === 0 ? outerMm : innerMm;
      const angle = (k * Math.PI) / points;
      return [x + r * Math.cos(angle), y + r * Math.sin(angle)];
    }),
  );
}

/** A plate with a notch whose bottom is a chain of short lines. */
function notched(shortMm: number, lines: number): Contour {
  const count = Math.min(lines, 5);
  const bottom = Array.from({ length: count + 1 }, (_, k): [number, number] => {
    const x = (0.5 - k / count) * shortMm * count;
    return [15 + x, 10 + x * x];
  });
  return polygon([0, 0], [30, 0], [30, 20], [18, 20], ...bottom, [12, 20], [0, 20]);
}

/** An opening with one short chamfer. */
function chamfered(shortMm: number): Contour {
  return polygon([0, 0], [20, 0], [20, 15 - shortMm], [20 - shortMm, 15], [0, 15]);
}

const drawings = fc
  .record({
    kind: fc.constantFrom(
      'punch',
      'die',
      'copies',
      'slot',
      'ring in a die',
      'notch',
      'chamfers',
      'small part',
      'wheel',
    ),
    points: fc.integer({ min: 3, max: 20 }),
    outer: fc.double({ min: 5, max: 40, noNaN: true }),
    depth: fc.double({ min: 0.5, max: 0.95, noNaN: true }),
    hole: fc.double({ min: 0.5, max: 4, noNaN: true }),
    short: fc.double({ min: 0.02, max: 0.6, noNaN: true }),
  })
  .map(({ kind, points, outer, depth, hole, short }): Contour[] => {
    const inner = outer * depth;
    if (kind === 'punch') return [star(points, outer, inner), circle(0, 0, Math.min(hole, inner * 0.3))];
    if (kind === 'die') return [rectangle(-60, -60, 120, 120), star(points, outer, inner)];
    if (kind === 'slot') {
      const end = Math.min(0.24, hole / 2.1);
      return [roundedRectangle(0, 0, 60, 30, 2), roundedRectangle(10, 10, 40, hole, end)];
    }
    if (kind === 'wheel') return [toothed(5 * points, outer, outer - hole / 4)];
    if (kind === 'small part') return [rectangle(0, 0, 0.8 + hole, 0.9 + 5 * short)];
    if (kind === 'notch') return [notched(short, points)];
    if (kind === 'chamfers') return [rectangle(-5, -5, 30, 30), chamfered(short)];
    if (kind === 'copies') return [0, 40, 80].flatMap((x) => [rectangle(x, 0, 30, 20), circle(x + 15, 10, hole)]);
    return [rectangle(0, 0, 100, 100), star(points, outer, inner, 50, 50), circle(50, 50, inner * 0.4)];
  });

/** Proves the programs of all wire operations; how many there were. */
function prove(plan: Plan): number {
  let proven = 0;
  for (const operation of plan.operations) {
    if (operation.process !== 'wire') continue;
    const written = writeProgram(operation.steps, post, { title: 'Test', notes: [] });
    expect(written.value, written.problems.map((p) => p.message).join('\n')).not.toBeNull();
    const { setup, features } = proofSetupOf(plan, operation);
    const proof = proveProgram(written.value!.motions, setup, features);
    expect(proof.findings.map((f) => f.message)).toEqual([]);
    expect(proof.verdict).toBe('pass');
    proven++;
  }
  return proven;
}

it('a large wheel with fine teeth is entered from the waste outside', () => {
  const request = plainRequest({ heightMm: 20, raUm: 0.8, toleranceMm: 0.01, wireId: 'B15' });
  const plan = planWire([{ contour: toothed(546, 81, 80) }], request, book);
  expect(plan.problems.filter((p) => p.severity === 'stop')).toEqual([]);
  expect(prove(plan)).toBe(1);
});

it('the program of every plan passes the proof', () => {
  let proven = 0;
  fc.assert(
    fc.property(
      drawings,
      fc.double({ min: 3, max: 80, noNaN: true }),
      fc.constantFrom(0.3, 0.8, 1.6, 3.2),
      fc.integer({ min: 1, max: 20 }),
      (drawn, heightMm, raUm, quantity) => {
        const request = plainRequest({ heightMm, raUm, quantity });
        const plan = planWire(
          drawn.map((contour) => ({ contour })),
          request,
          book,
        );
        proven += prove(plan);
      },
    ),
    { numRuns: 60 },
  );
  expect(proven).toBeGreaterThan(15);
}, 120_000);
