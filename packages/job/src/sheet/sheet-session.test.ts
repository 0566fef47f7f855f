import { expect, test } from 'vitest';
import { planDocument } from '../documents/plan-document.js';
import { priceDocument } from '../documents/price-document.js';
import { runJob, studyPrice } from '../run-job.js';
import { DEMO_JOBS, demoInputs, demoJob, draftOfJob } from '../testing/demo-jobs.js';
import { SHEET_SEED } from './sheet-caches.js';
import { PRICE_IDS, SheetSession, sheetAnswerOf } from './sheet-session.js';

test.each(DEMO_JOBS)(
  '%s: the sheet says what the job run says',
  (name) => {
    const inputs = demoInputs(name);
    const { job } = inputs;
    const run = runJob({ ...inputs, seed: SHEET_SEED });
    const answer = sheetAnswerOf(demoJob(name, draftOfJob(job)));
    expect(answer.questions).toEqual([]);
    expect(answer.plan).toEqual(planDocument(run, job.drawing));
    expect(answer.price).toEqual(priceDocument(run, studyPrice(run, inputs), job.drawing, PRICE_IDS));
    expect(answer.problems).toEqual(run.problems);
    expect(answer.proofs!.map((p) => p.verdict)).toEqual(run.programs.map((p) => p.proof.verdict));
  },
  60_000,
);

test('stopped between any two steps, a session answers as a fresh one does', () => {
  const inputs = demoJob('blade-punch');
  const whole = sheetAnswerOf(inputs);
  const steps = [...new SheetSession().answer(inputs)].length;
  expect(steps).toBeGreaterThan(4);
  const session = new SheetSession();
  for (let stopAfter = 1; stopAfter < steps; stopAfter++) {
    const run = session.answer({ ...inputs, draft: { ...inputs.draft, quantity: stopAfter + 2 } });
    for (let i = 0; i < stopAfter; i++) run.next();
    run.return();
  }
  expect(sheetAnswerOf(inputs, session)).toEqual(whole);
});
