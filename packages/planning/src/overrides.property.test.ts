import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import { parsePost, writeProgram } from '../../program/src/index.js';
import { proveProgram } from '../../proof/src/index.js';
import type { ComputedChoices, Plan, WireOperation, WireOverrides, WireRequest } from './plan.js';
import { planWire } from './plan-wire.js';
import { proofSetupOf } from './proof-setup.js';
import { type DemoJob, demoJobs } from './testing/demo-drawings.js';
import { checkSteps } from './testing/step-checker.js';

const book = startingBook();
const post = parsePost(JSON.parse(readFileSync(new URL('../../../shop/posts/iso-6983.json', import.meta.url), 'utf8')))
  .value!;
const jobs = demoJobs();
const plans = new Map(jobs.map((job) => [job.name, planWith(job)]));

function planWith(job: DemoJob, overrides?: WireOverrides, over: Partial<WireRequest> = {}): Plan {
  const request = { ...job.request, ...over };
  return planWire(job.contours, overrides === undefined ? request : { ...request, overrides }, book);
}

function wireOperations(plan: Plan): WireOperation[] {
  return plan.operations.filter((o): o is WireOperation => o.process === 'wire');
}

function stops(plan: Plan): string[] {
  return plan.problems.filter((p) => p.severity === 'stop').map((p) => p.message);
}

/** Everything but the mark that something was overruled. */
function unmarked(plan: Plan): Plan {
  const { overrides: _overrides, ...request } = plan.request;
  return { ...plan, request };
}

/** Checks steps, lengths and the proof of every wire operation. */
function prove(plan: Plan): void {
  for (const operation of wireOperations(plan)) {
    const check = checkSteps(operation);
    expect(check.faults).toEqual([]);
    expect(check.threadings).toBe(operation.threadings);
    for (const pass of operation.passes) expect(check.passMm.get(pass.pass)).toBeCloseTo(pass.pathMm.value, 6);
    const visits = operation.touches.filter((t) => t.kind === 'slug' || t.kind === 'part');
    const stopsForPieces = operation.steps.filter((s) => s.kind === 'stop' && /^(Hold|Support|Stay)/.test(s.reason));
    expect(visits.length > 0).toBe(stopsForPieces.length > 0);
    const written = writeProgram(operation.steps, post, { title: 'Test', notes: [] });
    expect(written.value, written.problems.map((p) => p.message).join('\n')).not.toBeNull();
    const { setup, features } = proofSetupOf(plan, operation);
    const proof = proveProgram(written.value!.motions, setup, features);
    expect(proof.findings.map((f) => f.message)).toEqual([]);
    expect(proof.verdict).toBe('pass');
  }
}

/** A share of all, each by chance. */
const shareOf = <T>(all: readonly T[]): fc.Arbitrary<T[]> => fc.subarray([...all], { minLength: 0 });

/** Overrides a planner might state for a plan: places near the computed ones, and anything for the rest. */
function overridesFor(plan: Plan, computed: ComputedChoices): fc.Arbitrary<WireOverrides> {
  const ids = plan.features.map((f) => f.id);
  const closed = plan.features.filter((f) => f.role !== 'open').map((f) => f.id);
  const levels = book.wireLevels.map((l) => l.level);
  const record = <T>(keys: readonly string[], value: (id: string) => fc.Arbitrary<T>) =>
    shareOf(keys.slice(0, 12)).chain((some) =>
      fc
        .tuple(...some.map((id) => value(id)))
        .map((values) => Object.fromEntries(some.map((id, i) => [id, values[i]!]))),
    );
  const shift = fc.oneof(fc.constant(0), fc.double({ min: -1.5, max: 1.5, noNaN: true }));
  const hole = (id: string) => {
    const { diameterMm: _diameter, ...at } = computed.startHoles[id]!;
    const moved = fc.record({ dx: shift, dy: shift }).map(({ dx, dy }) => ({ ...at, x: at.x + dx, y: at.y + dy }));
    if (at.fromEdge === true) return moved;
    return fc
      .tuple(moved, fc.option(fc.constantFrom(0.5, 0.6, 0.8, 1, 1.5), { nil: undefined }))
      .map(([place, diameterMm]) => (diameterMm === undefined ? place : { ...place, diameterMm }));
  };
  const any = fc.record(
    {
      passLevels: shareOf(levels.slice(1)).map((skims) => [levels[0]!, ...skims]),
      startHoles: record(ids, hole),
      slugHandling: record(closed, () =>
        fc.constantFrom('falls free' as const, 'tab' as const, 'tab and support' as const),
      ),
      tabMm: record(closed, () => fc.double({ min: 0.5, max: 6, noNaN: true })),
      order: fc.shuffledSubarray(ids, { minLength: 1 }),
    },
    { requiredKeys: [] },
  );
  // One decision alone is legal more often than many together.
  const kinds = ['passLevels', 'startHoles', 'slugHandling', 'tabMm', 'order'] as const;
  const one = fc.tuple(any, fc.constantFrom(...kinds)).map(([all, kind]): WireOverrides => {
    const value = all[kind];
    if (value === undefined) return {};
    if (Array.isArray(value)) return { [kind]: value };
    return { [kind]: Object.fromEntries(Object.entries(value).slice(0, 2)) };
  });
  return fc.oneof(any, { arbitrary: one, weight: 3 });
}

/** What is overruled is what is planned. */
function expectObeyed(operation: WireOperation, overrides: WireOverrides): void {
  const { passLevels, startHoles = {}, slugHandling = {}, tabMm = {}, order = [] } = overrides;
  if (passLevels !== undefined) expect(operation.passes.map((p) => p.level)).toEqual(passLevels);
  for (const [id, { x, y, diameterMm, fromEdge }] of Object.entries(startHoles)) {
    const hole = operation.startHoles.find((h) => h.features.includes(id))!;
    expect(hole.at).toEqual({ x, y });
    expect(hole.fromEdge).toBe(fromEdge ?? false);
    if (diameterMm !== undefined) expect(hole.diameterMm).toBe(diameterMm);
  }
  for (const slug of operation.slugs) {
    const handling = slugHandling[slug.feature];
    if (handling !== undefined) expect(slug.handling).toBe(handling);
    const mm = tabMm[slug.feature];
    if (mm !== undefined) expect(slug.tabMm?.value).toBeGreaterThanOrEqual(mm - 1e-9);
  }
  const cut = new Set(operation.steps.flatMap((s) => (s.kind === 'cut' ? [s.feature] : [])));
  expect([...cut].slice(0, order.length)).toEqual(order);
}

describe.each(jobs)('$name', (job) => {
  const plan = plans.get(job.name)!;
  const computed = plan.computed[0]!;

  it('is planned, and says what was computed', () => {
    expect(stops(plan)).toEqual([]);
    expect(plan.computed.map((c) => c.operation)).toEqual(wireOperations(plan).map((o) => o.number));
    expect(computed.order.length).toBe(plan.features.length);
  });

  it('keeps its plan when the computed choices are stated, one kind or all', () => {
    expect(plan.computed.length).toBe(1);
    const { passLevels, startHoles, slugHandling, tabMm, order } = computed;
    const all = { passLevels: passLevels!, startHoles, slugHandling, order };
    const texts = JSON.parse(JSON.stringify({ ...all, tabMm })) as WireOverrides;
    const free = Object.values(slugHandling).every((h) => h !== 'falls free');
    for (const overrides of [
      {},
      { passLevels: all.passLevels },
      { startHoles },
      { slugHandling },
      { tabMm },
      { order },
      { order: order.slice(0, 1) },
      ...(free ? [texts] : [all]),
    ]) {
      expect(unmarked(planWith(job, overrides))).toEqual(unmarked(plan));
    }
  }, 60_000);

  it('has a stop problem or passes the proof, whatever is overruled', () => {
    let proven = 0;
    fc.assert(
      fc.property(overridesFor(plan, computed), (overrides) => {
        const overruled = planWith(job, overrides);
        expect(stops(overruled).length > 0).toBe(overruled.operations.length === 0);
        if (overruled.operations.length === 0) return;
        for (const operation of wireOperations(overruled)) expectObeyed(operation, overrides);
        prove(overruled);
        proven++;
        expect(overruled.computed.map((c) => ({ ...c, operation: 0 }))).toEqual([{ ...computed, operation: 0 }]);
      }),
      { numRuns: 15 },
    );
    expect(proven).toBeGreaterThan(2);
    // Nothing stays of what is taken back.
    expect(planWith(job)).toEqual(plan);
  }, 120_000);
});
