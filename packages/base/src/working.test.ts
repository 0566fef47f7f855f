import { expect, test } from 'vitest';
import { sumOf } from './arithmetic.js';
import { given } from './figure.js';
import { STATED_FOR_JOB } from './source.js';
import { type FigureJson, packFigures } from './working.js';

const doubt = { relative: 0.1, cause: 'machine:W1' };
const rough = given(10, 'min', 'rough pass', STATED_FOR_JOB, doubt);
const skim = given(4, 'min', 'skim pass', STATED_FOR_JOB, doubt);

test('every figure in a packed document leads to given values through the table', () => {
  const total = sumOf({ rough, skim });
  const { packed, table } = packFigures({
    totals: { burnMin: total },
    passes: [{ burnMin: rough }, { burnMin: skim }],
  });
  const doc = packed as { totals: { burnMin: FigureJson }; passes: { burnMin: FigureJson }[] };
  expect(doc.totals.burnMin.value).toBe(14);
  expect(doc.totals.burnMin.reasons[0]).toContain('rough = 10 min, skim = 4 min');
  const row = table.figures[doc.totals.burnMin.id]!;
  expect(row.inputs).toEqual({ rough: doc.passes[0]!.burnMin.id, skim: doc.passes[1]!.burnMin.id });
  expect(Object.keys(table.figures)).toHaveLength(3);
  expect(table.sources.job!.title).toBe('Stated for this job');
  expect(JSON.parse(JSON.stringify({ packed, table }))).toEqual({ packed, table });
});
