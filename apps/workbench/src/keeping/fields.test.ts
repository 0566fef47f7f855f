import fc from 'fast-check';
import { expect, it } from 'vitest';
import { differencesBetween, labelOf, valueWords } from './field-words.js';
import { changedFields, fieldsOf, isSame, mergeStates, stateFrom } from './fields.js';
import type { JobState } from './rows.js';

const value = fc.oneof(fc.integer({ min: 1, max: 3 }), fc.constantFrom('a', 'b'), fc.constant(['x']));
const offer = fc.dictionary(fc.constantFrom('unitPrice', 'quantities'), value, { minKeys: 1 });
const state: fc.Arbitrary<JobState> = fc.record({
  content: fc
    .tuple(fc.dictionary(fc.constantFrom('wire', 'machine', 'notes'), value), fc.option(offer, { nil: undefined }))
    .map(([fields, part]) => (part === undefined ? fields : { ...fields, offer: part })),
  stage: fc.constantFrom('to read', 'to price'),
  drawing: fc.option(fc.constant({ sha256: 'a'.repeat(64), fileName: 'a.dxf', byteLength: 3 }), { nil: null }),
});

it('takes a job apart into fields and puts it together again', () => {
  fc.assert(fc.property(state, (one) => isSame(stateFrom(fieldsOf(one), 'closed'), one)));
});

it('takes both sides, keeps the other side where one did nothing, and clashes only where both changed', () => {
  fc.assert(
    fc.property(state, state, state, (base, mine, theirs) => {
      const merged = mergeStates(base, mine, theirs);
      const of = (from: JobState, to: JobState): string[] => changedFields(fieldsOf(from), fieldsOf(to));
      const both = of(base, mine).filter((name) => of(base, theirs).includes(name));
      expect(merged.clashes).toEqual(both.filter((name) => of(mine, theirs).includes(name)));
      const result = fieldsOf(merged.state);
      for (const name of of(base, merged.state)) {
        const wanted = of(base, mine).includes(name) ? fieldsOf(mine) : fieldsOf(theirs);
        expect(result.get(name)).toEqual(wanted.get(name));
      }
      expect(isSame(mergeStates(base, mine, base).state, mine)).toBe(true);
      expect(isSame(mergeStates(base, base, theirs).state, theirs)).toBe(true);
      if (merged.clashes.length === 0) expect(isSame(mergeStates(base, theirs, mine).state, merged.state)).toBe(true);
    }),
  );
});

it('says differences in words with units', () => {
  const one: JobState = {
    content: { heightMm: 4, toleranceMm: 0.01, offer: { unitPrice: 12 } },
    stage: 'to read',
    drawing: null,
  };
  const two: JobState = { ...one, content: { heightMm: 5, toleranceMm: 0.02 }, stage: 'to price' };
  expect(differencesBetween(one, two)).toEqual([
    { field: 'heightMm', label: 'Height', mine: '4 mm', theirs: '5 mm' },
    { field: 'offer.unitPrice', label: 'Price per piece', mine: '12', theirs: 'open' },
    { field: 'toleranceMm', label: 'Profile tolerance', mine: '±0.01 mm', theirs: '±0.02 mm' },
    { field: 'stage', label: 'Stands at', mine: 'to read', theirs: 'to price' },
  ]);
  expect(labelOf('content.skimCountMin')).toBe('Skim count');
  expect(valueWords('content.plate', { minX: 0, minY: 1, maxX: 20, maxY: 11 })).toBe('20 x 10 mm at (0, 1)');
});
