import { apply, BY_DEFINITION, defineLaw, given, packFigures, STATED_FOR_JOB } from '@gapwright/base';
import { expect, test } from 'vitest';
import { figurePaths, type PackedDocument, whyOf } from './why.js';

const law = defineLaw({
  id: 'test-why-time',
  says: 'Length over feed.',
  formula: 'length / feed',
  source: BY_DEFINITION,
  inputs: { length: { unit: 'mm', says: 'length' }, feed: { unit: 'mm/min', says: 'feed' } },
  output: 'min',
  evaluate: ({ length, feed }) => length / feed,
});
const length = given(12, 'mm', 'Measured', STATED_FOR_JOB);
const feed = given(3, 'mm/min', 'Stated', STATED_FOR_JOB, { relative: 0.1, cause: 'machine:W1' });
const { packed, table } = packFigures({ passes: [{ burnMin: apply(law, { length, feed }) }] });
const document = { ...(packed as object), ...table } as PackedDocument;

test('a figure opens down to given values, with its doubts', () => {
  const { value } = whyOf(document, 'passes.0.burnMin');
  expect(value!.working.formula).toBe('length / feed');
  expect(value!.working.inputs.map((i) => [i.name, i.value, i.says])).toEqual([
    ['length', 12, 'Measured'],
    ['feed', 3, 'Stated'],
  ]);
  expect(value!.doubts).toEqual([{ cause: 'machine:W1', share: 1 }]);
  expect(whyOf(document, 'passes[0].burnMin').value).toEqual({
    ...value,
    path: 'passes[0].burnMin',
    working: { ...value!.working, name: 'passes[0].burnMin' },
  });
});

test('a wrong path says what is there', () => {
  expect(whyOf(document, 'passes.1.burnMin').problems[0]!.message).toContain('There is no "1" at passes; there is 0');
  expect(whyOf(document, 'passes').problems[0]!.message).toContain('inside it are 0.burnMin');
  expect(whyOf(document, 'constructor').problems[0]!.code).toBe('WHY-NO-SUCH-PATH');
});

test('all figure paths are listed', () => {
  expect(figurePaths(document)).toEqual(['passes.0.burnMin']);
});
