import { describe, expect, test } from 'vitest';
import { demoJob } from '../testing/demo-jobs.js';
import { NOT_YET } from './decisions.js';
import type { DraftJob } from './draft-job.js';
import type { Decision, SheetAnswer } from './sheet-answer.js';
import { NO_ANSWER, patchAnswer } from './sheet-patch.js';
import { SheetSession } from './sheet-session.js';
import { overruledIds, undecided } from './undecided.js';

const inputs = demoJob('coupling-spline');
const session = new SheetSession();

function answerTo(change: Partial<DraftJob>, own = session): SheetAnswer {
  let answer = NO_ANSWER;
  const draft = { ...inputs.draft, ...change };
  for (const { patch } of own.answer({ ...inputs, draft }, ['read', 'planned', 'weighed'])) {
    answer = patchAnswer(answer, patch);
  }
  return answer;
}

const find = (answer: SheetAnswer, id: string): Decision => answer.decisions.find((d) => d.id === id)!;

describe('decisions', () => {
  const free = answerTo({});

  test('nothing overruled: what is chosen is what is computed, and it costs nothing to say so', () => {
    expect(free.decisions.map((d) => d.id)).toEqual(
      expect.arrayContaining(['wire', 'machine', 'stack', 'passes', 'unitPrice', 'startHole:F1', 'slug:F1']),
    );
    for (const d of free.decisions) {
      expect([d.id, d.isOverruled, d.costs]).toEqual([d.id, false, null]);
      expect([d.id, d.computed]).toEqual([d.id, d.chosen]);
    }
  });

  test.each<[string, Partial<DraftJob>]>([
    ['wire', { wire: 'B20' }],
    ['stack', { stack: 1 }],
    ['passes', { overrides: { passLevels: [1, 2, 3, 4, 5] } }],
    ['slug:F1', { overrides: { slugHandling: { F1: 'tab and support' } } }],
    ['unitPrice', { offer: { ...inputs.draft.offer, unitPrice: 400 } }],
  ])('%s overruled: the computed choice stays beside it, with what the own choice costs', (id, change) => {
    const changed = answerTo(change, new SheetSession());
    const decision = find(changed, id);
    expect(decision.isOverruled).toBe(true);
    expect(decision.computed).toBe(find(free, id).computed);
    const price = (a: SheetAnswer): number => a.plan!.offer!.computedUnitPrice.value;
    const set = change.offer?.unitPrice;
    const expected = set === undefined ? price(changed) - price(free) : set - price(free);
    expect(decision.costs!.unitPriceChange).toBeCloseTo(expected, 9);
    expect(overruledIds({ ...inputs.draft, ...change })).toEqual([id]);
    expect(undecided({ ...inputs.draft, ...change }, id)).toEqual(inputs.draft);
  });

  test('other machines and stacks say what they would cost, and it is what they cost', () => {
    const { input } = find(free, 'stack');
    const other = input.kind === 'choice' ? input.options.find((o) => o.value !== input.value && o.isPossible)! : null!;
    const price = (a: SheetAnswer): number => a.plan!.offer!.computedUnitPrice.value;
    const share = Math.round((price(answerTo({ stack: Number(other.value) })) / price(free) - 1) * 100);
    expect(other.says).toContain(`${share < 0 ? '−' : '+'}${Math.abs(share)} % price`);
  });

  test('before other plans are made, an overruled choice waits for what was computed', () => {
    const steps = new SheetSession().answer({ ...inputs, draft: { ...inputs.draft, stack: 1 } }, ['planned']);
    const planned = steps.next().value!;
    expect(planned.patch.decisions!.find((d) => d.id === 'stack')).toMatchObject({ computed: NOT_YET, costs: null });
  });

  test.each<[string, Partial<DraftJob>, RegExp]>([
    ['wire', { wire: 'B99' }, /Wire "B99" is not in the shop book/],
    ['machine', { machine: 'W99' }, /Machine "W99" is not a wire machine/],
    ['passes', { overrides: { passLevels: [1, 77] } }, /level 77, which the shop book does not have/],
    ['slug:F99', { overrides: { slugHandling: { F99: 'tab' } } }, /F99, which the drawing does not have/],
  ])('%s that is not there any more gives one problem and a way back', (id, change, says) => {
    const answer = answerTo(change);
    const stops = answer.problems.filter((p) => p.severity === 'stop');
    expect(stops.map((p) => p.message)).toEqual([expect.stringMatching(says)]);
    expect(overruledIds({ ...inputs.draft, ...change })).toEqual([id]);
    expect(find(answer, id)).toMatchObject({ isOverruled: true });
  });
});
