import { appendFileSync } from 'node:fs';
import { expect } from 'vitest';
import type { Standing } from '../source.js';

/** One of our answers beside somebody else's. */
export interface OutsideCheck {
  /** Stable id, e.g. `surface-vdi-24`. */
  readonly id: string;
  /** What is checked, in words a planner understands. */
  readonly what: string;
  readonly ours: number;
  readonly theirs: number;
  readonly unit: string;
  /** Largest difference that still counts as agreement, in `unit`, and why it is not smaller. */
  readonly allowed: number;
  readonly why: string;
  /** Whose answer it is, with the place in it. */
  readonly source: string;
  readonly standing: Extract<Standing, 'published' | 'from memory' | 'common practice'> | 'library';
}

/**
 * Compares and records. Call it only from files named `*.outside.test.ts`; `npm run outside-checks` collects the
 * records into `docs/outside-checks.md`.
 */
export function outsideCheck(check: OutsideCheck): void {
  const file = process.env.OUTSIDE_CHECKS_FILE;
  if (file !== undefined) appendFileSync(file, `${JSON.stringify(check)}\n`);
  const difference = Math.abs(check.ours - check.theirs);
  expect(
    difference <= check.allowed,
    `${check.id}: ours ${check.ours}, theirs ${check.theirs} ${check.unit}, difference ${difference}, allowed ${check.allowed}`,
  ).toBe(true);
}
