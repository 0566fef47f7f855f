import { expect, test } from 'vitest';
import type { KnownAnswer, KnownOperation } from '../desk/known-answer.js';
import { bookMachines } from './book-machines.js';
import { type FloorJob, floorLoad } from './open-operations.js';

const operation = (part: Partial<KnownOperation>): KnownOperation => ({
  number: 10,
  title: 'Cut',
  process: 'wire',
  machineId: 'W1',
  runs: 1,
  machineMin: 100,
  attendedMin: 20,
  touches: [{ kind: 'set-up', says: 'Clamp', min: 20 }],
  ...part,
});
const answer = (jobId: string, operations: readonly KnownOperation[]): readonly [string, KnownAnswer] => [
  jobId,
  { jobId, key: null, openQuestions: 0, stop: null, stops: 0, price: null, proof: 'proved', operations },
];
const job = (jobId: string, part: Partial<FloorJob> = {}): FloorJob => ({
  jobId,
  title: jobId,
  stage: 'burning',
  wantedDay: undefined,
  ...part,
});
const machines = [
  { id: 'W1', name: 'Wire 1' },
  { id: 'W2', name: 'Wire 2' },
];

test('runs count: times and touches of a line are those of all runs together', () => {
  const load = floorLoad([job('a')], new Map([answer('a', [operation({ runs: 3 })])]), machines);
  expect(load.machines[0]).toMatchObject({ name: 'Wire 1', machineMin: 300, attendedMin: 60, touches: 3 });
  expect(load.idle.map((m) => m.id)).toEqual(['W2']);
});

test('burning comes before what is only offered; then the wanted day', () => {
  const jobs = [
    job('offered', { stage: 'with the customer' }),
    job('late', { wantedDay: '2026-12-20' }),
    job('soon', { wantedDay: '2026-12-01' }),
  ];
  const known = new Map(jobs.map((j) => answer(j.jobId, [operation({})])));
  expect(floorLoad(jobs, known, machines).machines[0]!.lines.map((l) => l.job.jobId)).toEqual([
    'soon',
    'late',
    'offered',
  ]);
});

test('of a job to inspect only the bench is open; jobs elsewhere are not on the floor', () => {
  const operations = [operation({}), operation({ number: 20, process: 'other', machineId: 'bench' })];
  const known = new Map([answer('a', operations), answer('b', operations)]);
  const load = floorLoad([job('a', { stage: 'to inspect' }), job('b', { stage: 'to price' })], known, machines);
  expect(load.machines.map((m) => [m.name, m.lines.length])).toEqual([['Bench', 1]]);
});

test('a job without a known plan is listed apart, not left out', () => {
  const load = floorLoad([job('a'), job('b')], new Map([answer('b', [])]), machines);
  expect(load.unplanned.map((j) => j.jobId)).toEqual(['a', 'b']);
  expect(load.machines).toEqual([]);
});

test('machines are read from a shop book, and a broken one has none', () => {
  const book = {
    wireMachines: [{ id: 'W1', name: 'Wire 1' }, { id: 'W2' }, 7],
    drillMachines: [{ id: 'D1', name: 'Drill 1' }],
  };
  expect(bookMachines(book)).toEqual([
    { id: 'W1', name: 'Wire 1' },
    { id: 'W2', name: 'W2' },
    { id: 'D1', name: 'Drill 1' },
  ]);
  expect(bookMachines(null)).toEqual([]);
});
