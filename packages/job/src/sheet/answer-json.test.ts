import { expect, test } from 'vitest';
import { demoJob } from '../testing/demo-jobs.js';
import { sheetAnswerFromJson, sheetAnswerJson } from './answer-json.js';
import { openFigure } from './open-figure.js';
import { sheetAnswerOf } from './sheet-session.js';

const answer = sheetAnswerOf(demoJob('blade-punch'));

test('an answer kept as text comes back number for number', () => {
  const text = JSON.stringify(sheetAnswerJson(answer));
  const { value } = sheetAnswerFromJson(JSON.parse(text));
  expect(value).toEqual(answer);
  expect(value!.scene!.walks[0]!.paths.values).toBeInstanceOf(Float64Array);
  expect(value!.scene!.walks[0]!.endMin.length).toBeGreaterThan(10);
});

test.each([
  [null],
  [[]],
  ['text'],
  [{ document: 'gapwright-sheet-1' }],
  [{ document: 'gapwright-sheet-1', answer: {} }],
])('what is no kept sheet is refused: %j', (json) => {
  const { value, problems } = sheetAnswerFromJson(json);
  expect(value).toBeNull();
  expect(problems[0]).toMatchObject({ code: 'SHEET-NOT-READABLE', severity: 'stop' });
});

test('figures of plan and price are opened by id alone, and what moves them most comes first', () => {
  const plan = answer.plan!;
  for (const id of Object.keys(plan.figures)) {
    const opened = openFigure(plan, id)!;
    expect(opened.table.figures[id]).toEqual(plan.figures[id]);
    for (const p of opened.pulls) expect(Number.isFinite(p.atLow) && Number.isFinite(p.atHigh)).toBe(true);
    const reach = opened.pulls.map((p) => Math.abs(p.atHigh - p.atLow));
    expect(reach).toEqual([...reach].sort((a, b) => b - a));
  }
  expect(openFigure(plan, 'p1')).toBeNull();
  expect(openFigure(answer.price!, answer.price!.table[0]!.unitPrice.id)!.pulls.length).toBeGreaterThan(0);
});

test('a pull is what the law gives with the input at the end of its interval', () => {
  const plan = answer.plan!;
  const { burnMin, pathMm, feedMmPerMin } = plan.operations.flatMap((op) => op.passes)[0]!;
  const opened = openFigure(plan, burnMin.id)!;
  const feed = opened.pulls.find((p) => p.figure.id === feedMmPerMin.id)!;
  expect(feed.atLow).toBeCloseTo(pathMm.value / feedMmPerMin.low, 6);
  expect(feed.atHigh).toBeCloseTo(pathMm.value / feedMmPerMin.high, 6);
  expect(feed.figure.reasons).toEqual(feedMmPerMin.reasons);
});

test('a price has no doubt of its own, so what moves it most is found further down', () => {
  const { id } = answer.plan!.offer!.computedUnitPrice;
  const { pulls, roots } = openFigure(answer.plan!, id)!;
  expect(pulls.every((p) => p.atLow === p.atHigh)).toBe(true);
  expect(roots[0]!.atLow).not.toBe(roots[0]!.atHigh);
});
