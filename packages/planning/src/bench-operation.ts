import { apply, defineLaw, defineSource, given, STATED_FOR_JOB, sumOf } from '@gapwright/base';
import { timesMin } from '@gapwright/process';
import { distinctShapes } from './distinct-shapes.js';
import type { Job } from './job.js';
import type { BenchOperation } from './plan.js';

const SAMPLING = defineSource({
  id: 'planning-sampling',
  title: 'Square root of the quantity and one more are measured; a starting rule for repeated parts',
  standing: 'common practice',
});

const SAMPLE = defineLaw({
  id: 'plan-sample-size',
  says: 'Pieces measured of a batch: the square root of the quantity and one more, at most all.',
  formula: 'min(N, ceil(sqrt(N)) + 1)',
  source: SAMPLING,
  inputs: { N: { unit: '1', says: 'quantity' } },
  output: '1',
  decides: true,
  evaluate: ({ N }) => Math.min(N, Math.ceil(Math.sqrt(N)) + 1),
});

const MEASURED = defineLaw({
  id: 'plan-characteristics',
  says: 'One characteristic for each kind of feature on each piece measured.',
  formula: 'k n',
  source: SAMPLING,
  inputs: { k: { unit: '1', says: 'kinds of features' }, n: { unit: '1', says: 'pieces measured' } },
  output: '1',
  evaluate: ({ k, n }) => k * n,
});

/** Cleaning all pieces and measuring a sample of them at the bench, once for the whole quantity. */
export function benchOperation(job: Job, number: number): BenchOperation {
  const { rates } = job.book;
  const quantity = given(job.request.quantity, '1', 'Quantity', STATED_FOR_JOB);
  const kinds = distinctShapes(job.shapes.map((s) => s.drawn.feature));
  const sample = apply(SAMPLE, { N: quantity });
  const characteristics = apply(MEASURED, { k: given(kinds, '1', 'Kinds of features', STATED_FOR_JOB), n: sample });
  const cleaning = timesMin(quantity, rates.cleaningMinPerPart);
  const checking = timesMin(characteristics, rates.inspectionMinPerCharacteristic);
  const pieces = sample.value === 1 ? 'the piece' : `${sample.value} pieces`;
  return {
    number,
    title: 'Clean, dry and inspect',
    process: 'other',
    machineId: 'bench',
    touches: [
      { id: 'T1', kind: 'check', says: 'Clean and dry the pieces', min: cleaning },
      { id: 'T2', kind: 'check', says: `Measure one feature of each kind on ${pieces}`, min: checking },
    ],
    cautions: [],
    runs: 1,
    machineMin: given(0, 'min', 'No machine', STATED_FOR_JOB),
    attendedMin: sumOf({ cleaning, checking }),
    passes: [],
  };
}
