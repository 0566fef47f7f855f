import { BugError } from '@gapwright/base';
import { expect, it } from 'vitest';
import { printable, printableText, requireFinite } from './printable.js';

it('names the number that is not finite', () => {
  expect(() => requireFinite({ passes: [{ gapMm: { value: Number.NaN } }] })).toThrow(
    new BugError('data.passes[0].gapMm.value is NaN; papers print finite numbers only'),
  );
  expect(() => requireFinite({ a: 1, b: [null, 'x'] })).not.toThrow();
});

it('leaves ordinary text alone', () => {
  const text = 'Ø 0.25 ±0.005 mm, Ra 0.8 µm, 20 °C, 14 €';
  expect(printableText(text)).toBe(text);
});

it('takes out what hides or reorders print', () => {
  expect(printableText('a\u0000b\nc\u202ed')).toBe('a b cd');
  expect(printableText('half \ud800 pair')).toBe('half □ pair');
});

it('lets very long words break and loses no letter', () => {
  const word = 'x'.repeat(10_000);
  const broken = printableText(word);
  expect(broken.replaceAll('\u200b', '')).toBe(word);
  expect(Math.max(...broken.split('\u200b').map((run) => run.length))).toBeLessThanOrEqual(12);
});

it('keeps pictures as they are', () => {
  const svg = `<svg>${'y'.repeat(100)}</svg>`;
  expect(printable({ drawing: { svg, alt: 'a\u0007' } })).toEqual({ drawing: { svg, alt: 'a ' } });
});
