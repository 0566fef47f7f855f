import { describe, expect, it } from 'vitest';
import { formulaWithNumbers } from './formula-numbers.js';

describe('formulaWithNumbers', () => {
  it.each([
    ['s / v', { s: '150.4', v: '3.281' }, '150.4 / 3.281'],
    ['n t', { n: '2', t: '150.7' }, '2 × 150.7'],
    ['t / 60 r', { t: '25', r: '38' }, '25 / 60 × 38'],
    ['a + b + …', { 'pass 1': '45.8', 'pass 2': '31.4' }, '45.8 + 31.4'],
    ['sqrt(min(d, 0.25) / 0.25)', { d: '0.2' }, 'sqrt(min(0.2, 0.25) / 0.25)'],
    ['f0 + (f1 − f0) (H − H0)', { f0: '1', f1: '0.8', H: '64', H0: '50' }, '1 + (0.8 − 1) × (64 − 50)'],
    ['Ra0 E^(1/3) m', { Ra0: '2.7', E: '1', m: '1.05' }, '2.7 × 1^(1/3) × 1.05'],
    ['π/4 d² rho', { d: '0.25', rho: '8.4' }, 'π/4 × 0.25² × 8.4'],
    ['6 m g r / (s H²)', { m: '403', r: '12', s: '800', H: '64' }, '6 × 403 × g × 12 / (800 × 64²)'],
    ['A H rho / 1e6', { A: '818', H: '64', rho: '7.7' }, '818 × 64 × 7.7 / 1e6'],
    ['s^3', { s: '-2' }, '(-2)^3'],
  ])('%s', (formula, numbers, expected) => {
    expect(formulaWithNumbers(formula, numbers)).toBe(expected);
  });

  it('leaves names inside longer names alone', () => {
    expect(formulaWithNumbers('max(expected, mean)', { e: '9', m: '8', expected: '5' })).toBe('max(5, mean)');
  });

  it('keeps a rule said in words readable', () => {
    expect(formulaWithNumbers('share of draws with cost > price', { share: '0.06', cost: '132', price: '177' })).toBe(
      '0.06 of draws with 132 > 177',
    );
  });
});
