import type { Decision, DraftJob } from '@gapwright/job';
import { describe, expect, it } from 'vitest';
import { backToComputed, decide } from './apply-decision.js';

const decision = (id: string): Decision => ({
  id,
  label: id,
  operation: null,
  feature: null,
  chosen: '',
  computed: '',
  isOverruled: false,
  because: '',
  input: { kind: 'choice', value: '', options: [] },
  costs: null,
});

describe('decisions', () => {
  const draft: DraftJob = { material: 'D2', offer: { quantities: [1, 5] } };

  it.each([
    ['wire', 'B20', { ...draft, wire: 'B20' }],
    ['stack', 2, { ...draft, stack: 2 }],
    ['unitPrice', 99, { ...draft, offer: { quantities: [1, 5], unitPrice: 99 } }],
    ['passes', [1, 3], { ...draft, overrides: { passLevels: [1, 3] } }],
    ['slug:F2', 'tab', { ...draft, overrides: { slugHandling: { F2: 'tab' } } }],
    ['startHole:F1', { x: 1, y: 2 }, { ...draft, overrides: { startHoles: { F1: { x: 1, y: 2 } } } }],
    ['order', ['F2', 'F1'], { ...draft, overrides: { order: ['F2', 'F1'] } }],
  ])('%s goes to its place, and back again', (id, value, expected) => {
    const decided = decide(draft, decision(id), value);
    expect(decided).toEqual(expected);
    expect(backToComputed(decided, decision(id))).toEqual(draft);
  });

  it('keeps decisions of other features', () => {
    const both = decide(decide(draft, decision('slug:F1'), 'tab'), decision('slug:F2'), 'falls free');
    expect(backToComputed(both, decision('slug:F1'))).toEqual({
      ...draft,
      overrides: { slugHandling: { F2: 'falls free' } },
    });
  });

  it('refuses a decision that has no place in a job', () => {
    expect(() => decide(draft, decision('weather:F1'), 'dry')).toThrow(/weather/);
  });
});
