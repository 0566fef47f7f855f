import fc from 'fast-check';
import { expect, test } from 'vitest';
import { deskRows, groupSlips } from './groups.js';
import type { SlipJob } from './slip.js';
import { movesFrom, STAGES } from './stages.js';

const slip = (jobId: string, part: Partial<SlipJob> = {}): SlipJob => ({
  jobId,
  draft: {},
  stage: 'to read',
  drawing: null,
  saved: 'saved',
  conflict: null,
  offers: [],
  ...part,
});

test('groups come in the order of work, slips by wanted day, those without one last', () => {
  const jobs = [
    slip('a', { stage: 'burning' }),
    slip('b', { draft: { wantedDay: '2026-12-09' } }),
    slip('c', { draft: { title: 'Late' } }),
    slip('d', { draft: { wantedDay: '2026-12-01' } }),
  ];
  expect(groupSlips(jobs, '').map((g) => [g.stage, g.jobs.map((j) => j.jobId)])).toEqual([
    ['to read', ['d', 'b', 'c']],
    ['burning', ['a']],
  ]);
});

test('search looks at title, customer, number, material, file name, notes and enquiry; every word must be there', () => {
  const job = slip('a', {
    draft: {
      title: 'Swirler plate',
      customer: 'Cirrus',
      enquiry: 'E-1003',
      material: 'Inconel718',
      notes: 'thin slots',
      enquiryText: 'please quote',
    },
    drawing: { sha256: '0'.repeat(64), fileName: 'plate-7.dxf', byteLength: 1 },
  });
  for (const typed of ['swirl', 'cirrus', '1003', 'inconel', 'slots', 'QUOTE', 'plate-7', 'cirrus slots'])
    expect(groupSlips([job], typed)).toHaveLength(1);
  expect(groupSlips([job], 'cirrus steel')).toHaveLength(0);
});

test('a folded group keeps its heading and its count', () => {
  const groups = groupSlips([slip('a', { stage: 'closed' }), slip('b', { stage: 'closed' })], '');
  expect(deskRows(groups, new Set(['closed']))).toEqual([
    { kind: 'heading', stage: 'closed', count: 2, isFolded: true },
  ]);
  expect(deskRows(groups, new Set()).map((r) => r.kind)).toEqual(['heading', 'slip', 'slip']);
});

test('no job is lost or doubled, whatever the stages', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...STAGES), { maxLength: 30 }), (stages) => {
      const jobs = stages.map((stage, i) => slip(String(i), { stage }));
      const ids = groupSlips(jobs, '').flatMap((g) => g.jobs.map((j) => j.jobId));
      expect(ids.toSorted()).toEqual(jobs.map((j) => j.jobId).toSorted());
    }),
    { numRuns: 50 },
  );
});

test('the natural next step is offered first, and every other stage once', () => {
  expect(movesFrom('to price')[0]).toBe('with the customer');
  expect(movesFrom('to inspect')[0]).toBe('closed');
  for (const stage of STAGES) expect(movesFrom(stage).toSorted()).toEqual(STAGES.filter((s) => s !== stage).toSorted());
});
