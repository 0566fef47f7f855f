import { describe, expect, it } from 'vitest';
import { changeBetween, changeSays, changesSay, withChange, withField } from './draft-fields.js';

describe('draft fields', () => {
  it('takes an emptied field out instead of keeping an empty value', () => {
    expect(withField({ title: 'A', heightMm: 3 }, 'heightMm', null)).toEqual({ title: 'A' });
    expect(withField({ title: 'A' }, 'title', '')).toEqual({});
    expect(withField({ cutLayers: ['A'] }, 'cutLayers', [])).toEqual({});
  });

  it('puts several changes in at once and leaves the rest', () => {
    expect(withChange({ raUm: 0.8, quantity: 4 }, { raUm: 1.6, toleranceMm: 0.01 })).toEqual({
      quantity: 4,
      raUm: 1.6,
      toleranceMm: 0.01,
    });
  });

  it('finds what makes one draft out of another, fields taken out included', () => {
    const from = { raUm: 0.8, wire: 'B20', quantity: 4 };
    const to = { raUm: 1.6, quantity: 4, stack: 2 };
    expect(changeBetween(from, to)).toEqual({ raUm: 1.6, wire: undefined, stack: 2 });
    expect(withChange(from, changeBetween(from, to))).toEqual(to);
  });

  it('says what changed', () => {
    expect(changeSays('toleranceMm', 0.005)).toBe('Profile tolerance set to ±0.005 mm');
    expect(changeSays('wire', undefined)).toBe('Wire left open');
    expect(changesSay({ raUm: 0.8, wire: 'B20' }, { raUm: 1.6, offer: { unitPrice: 12 } })).toBe(
      'Ra set to 1.6 µm; Wire left open; Price per piece set to 12',
    );
    expect(changesSay({ raUm: 0.8 }, { raUm: 0.8 })).toBe('Nothing changed');
  });
});
