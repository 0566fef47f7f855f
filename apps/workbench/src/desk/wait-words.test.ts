import { describe, expect, test } from 'vitest';
import { inputsKey, type KnownAnswer, mergedAnswer } from './known-answer.js';
import type { SlipJob } from './slip.js';
import { waitWords } from './wait-words.js';

const TODAY = '2026-11-25';
const drawing = { sha256: 'a'.repeat(64), fileName: 'plate.dxf', byteLength: 10 };
const job: SlipJob = {
  jobId: '1',
  draft: { material: 'D2' },
  stage: 'to price',
  drawing,
  saved: 'saved',
  conflict: null,
  offers: [],
};
const known: KnownAnswer = {
  jobId: '1',
  key: inputsKey(job.draft, drawing.sha256),
  openQuestions: 0,
  stop: null,
  stops: 0,
  price: { quantity: 4, unitPrice: 412.5, currency: 'EUR', lossRisk: 0.17 },
  proof: 'not proved yet',
  operations: [],
};
const texts = (j: SlipJob, k?: KnownAnswer): string[] => waitWords(j, k, TODAY).map((w) => w.text);

describe('what a slip says', () => {
  test('price with its risk, and whether it was proved', () => {
    expect(texts(job, known)).toEqual(['price 412.50 EUR each at 4, about 1 in 6 to lose money', 'not proved yet']);
    expect(waitWords(job, { ...known, proof: 'proved' }, TODAY).at(-1)).toEqual({ tone: 'proven', text: 'proved' });
    expect(waitWords(job, { ...known, proof: 'fails the proof' }, TODAY).at(-1)!.tone).toBe('needs');
  });

  test('questions and stops come instead of a price', () => {
    expect(texts(job, { ...known, openQuestions: 2 })).toEqual(['2 questions open']);
    expect(texts(job, { ...known, stop: 'No wire fits.', stops: 2 })).toEqual([
      'plan stops: No wire fits. (and 1 more)',
    ]);
  });

  test('a price from before a change says so; words around the job are no change', () => {
    expect(texts({ ...job, draft: { material: 'D2', title: 'New name' } }, known)).not.toContain(
      'from before the last change',
    );
    expect(texts({ ...job, draft: { material: 'H13' } }, known)).toContain('from before the last change');
  });

  test('nothing is made up about a job that was never planned here', () => {
    expect(texts(job)).toEqual(['not planned on this device yet']);
    expect(texts({ ...job, drawing: null })).toEqual(['no drawing yet']);
  });

  test('solids are kept, and the slip says that they are not read', () => {
    const [word] = texts({ ...job, drawing: { ...drawing, fileName: 'block.step' } });
    expect(word).toMatch(/reading solids is not built yet/);
  });

  test('the newest offer with its promise', () => {
    const offers = [
      { madeAt: '2026-11-20T10:00:00Z', unitPrice: 400, currency: 'EUR', promisedDay: null },
      { madeAt: '2026-11-24T10:00:00Z', unitPrice: 390, currency: 'EUR', promisedDay: '2026-12-03' },
    ];
    expect(texts({ ...job, offers }, known)[0]).toBe('offered 390.00 EUR each on 24 Nov, promised for 3 Dec');
  });
});

describe('answers that come in parts', () => {
  const first = { ...known, price: null, operations: [] };
  test('a part that has not come again stays for the same inputs', () => {
    const proved: KnownAnswer = { ...known, proof: 'proved' };
    expect(mergedAnswer(proved, first)).toEqual(proved);
  });
  test('other inputs, another price, questions or stops forget it', () => {
    const proved: KnownAnswer = { ...known, proof: 'proved' };
    expect(mergedAnswer(proved, { ...first, key: 'other' }).price).toBeNull();
    expect(mergedAnswer(proved, { ...first, stop: 'No wire fits.' }).price).toBeNull();
    expect(mergedAnswer(proved, { ...known, price: { ...known.price!, unitPrice: 500 } }).proof).toBe('not proved yet');
  });
});
