import { outsideCheck } from '@gapwright/base/testing';
import { cumulativeStdNormalProbability, errorFunction, gammaln } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { averageRunLength } from './burns/drift-alarm.js';
import {
  crpsLogNormal,
  crpsNormal,
  crpsSample,
  crpsStudent,
  intervalScore,
  pitDistance,
  pitHistogram,
} from './scores.js';
import { erfc, incompleteBeta, lnGamma, normalQuantile, studentCdf, studentQuantile } from './special-functions.js';

describe('scores against published values', () => {
  it('CRPS of the standard normal at its mean', () => {
    outsideCheck({
      id: 'learning-crps-normal',
      what: 'CRPS of a standard normal forecast met at its mean',
      ours: crpsNormal(0, 0, 1),
      theirs: 0.2336949772,
      unit: '1',
      allowed: 1e-9,
      why: 'ten digits of (sqrt 2 - 1) / sqrt pi',
      source: 'Gneiting and Raftery (2007), closed form of the normal CRPS',
      standing: 'from memory',
    });
  });

  it.each([
    [1, 0.975, 12.7062047],
    [5, 0.9, 1.475884],
    [10, 0.975, 2.2281389],
    [30, 0.95, 1.6972609],
  ])('Student-t quantile, %i degrees of freedom at %f', (df, p, table) => {
    outsideCheck({
      id: `learning-student-${df}-${p}`,
      what: `Student-t quantile, ${df} degrees of freedom, probability ${p}`,
      ours: studentQuantile(p, df),
      theirs: table,
      unit: '1',
      allowed: 1e-6,
      why: 'seven decimals of the table',
      source: 'Standard table of the t distribution',
      standing: 'from memory',
    });
  });

  it('average run length of the cumulative sum', () => {
    outsideCheck({
      id: 'learning-cusum-run-length',
      what: 'Burns between false alarms, two-sided cumulative sum, slack 0.5, limit 5',
      ours: averageRunLength(0.5, 5),
      theirs: 465,
      unit: 'burns',
      allowed: 10,
      why: 'the formula is an approximation of the tabled run length',
      source: 'Montgomery, Introduction to Statistical Quality Control, run lengths of the tabular CUSUM',
      standing: 'from memory',
    });
  });

  it.each([-2.3, -0.4, 0.1, 1.7])('normal distribution at %f', (z) => {
    outsideCheck({
      id: `learning-normal-cdf-${z}`,
      what: `Standard normal distribution function at ${z}`,
      ours: 0.5 * erfc(-z / Math.SQRT2),
      theirs: cumulativeStdNormalProbability(z),
      unit: '1',
      allowed: 1e-4,
      why: 'the library reads a table of four decimals',
      source: 'simple-statistics cumulativeStdNormalProbability',
      standing: 'library',
    });
    expect(1 - erfc(z)).toBeCloseTo(errorFunction(z), 5);
  });

  it('ln of the gamma function', () => {
    for (const x of [0.5, 1, 2.5, 7, 40]) expect(lnGamma(x)).toBeCloseTo(gammaln(x), 8);
    expect(lnGamma(0.5)).toBeCloseTo(Math.log(Math.sqrt(Math.PI)), 12);
  });
});

describe('closed forms against each other', () => {
  it('a sample of normal quantiles scores like the normal', () => {
    const sample = Array.from({ length: 2000 }, (_, k) => 3 + 2 * normalQuantile((k + 0.5) / 2000));
    for (const y of [-1, 2.5, 8]) expect(crpsSample(y, sample)).toBeCloseTo(crpsNormal(y, 3, 2), 2);
  });

  it('a sample of log-normal quantiles scores like the log-normal', () => {
    const sample = Array.from({ length: 4000 }, (_, k) => Math.exp(0.4 + 0.5 * normalQuantile((k + 0.5) / 4000)));
    for (const y of [0.5, 1.4, 4]) expect(crpsSample(y, sample)).toBeCloseTo(crpsLogNormal(y, 0.4, 0.5), 2);
  });

  it('a sample of Student-t quantiles scores like Student-t, and many degrees of freedom like the normal', () => {
    const sample = Array.from({ length: 2000 }, (_, k) => studentQuantile((k + 0.5) / 2000, 5));
    expect(crpsSample(0.7, sample)).toBeCloseTo(crpsStudent(0.7, 0, 1, 5), 2);
    expect(crpsStudent(0.7, 0, 1, 1e6)).toBeCloseTo(crpsNormal(0.7, 0, 1), 5);
  });

  it('distribution and quantile of Student-t undo each other', () => {
    for (const df of [1, 3, 8]) {
      for (const p of [0.01, 0.3, 0.99]) expect(studentCdf(studentQuantile(p, df), df)).toBeCloseTo(p, 10);
    }
    expect(incompleteBeta(0.3, 1, 1)).toBeCloseTo(0.3, 12);
  });

  it('the interval score is the width plus what a miss costs', () => {
    expect(intervalScore(5, 4, 7, 0.2)).toBe(3);
    expect(intervalScore(8, 4, 7, 0.2)).toBeCloseTo(13, 12);
  });

  it('even transforms are near uniform, bunched ones are not', () => {
    const even = Array.from({ length: 100 }, (_, k) => (k + 0.5) / 100);
    expect(pitDistance(even)).toBeCloseTo(0.005, 12);
    expect(pitHistogram(even)).toEqual(new Array(10).fill(10));
    expect(pitDistance(even.map((p) => 0.4 + 0.2 * p))).toBeGreaterThan(1.36 / 10);
  });
});
