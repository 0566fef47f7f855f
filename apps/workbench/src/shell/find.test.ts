import { describe, expect, test } from 'vitest';
import { findBest, findScore } from './find.js';

const label = (text: string) => ({ label: text, more: '' });

describe('finding by a few letters', () => {
  test('nothing typed fits everything; a missing word fits nothing', () => {
    expect(findScore('', 'Desk')).toBe(1);
    expect(findScore('rotor steel', 'Gear-pump rotor pair')).toBe(0);
  });

  test('words may come in any order, in any case, without accents', () => {
    expect(findScore('PAIR gear', 'Gear-pump rotor pair')).toBeGreaterThan(0);
    expect(findScore('piece', 'Pièce à découper')).toBeGreaterThan(0);
  });

  test('beginnings of words come before middles, middles before strewn letters', () => {
    const start = findScore('rot', 'Gear-pump rotor pair');
    const middle = findScore('oto', 'Gear-pump rotor pair');
    const strewn = findScore('gpr', 'Gear-pump rotor pair');
    expect(start).toBeGreaterThan(middle);
    expect(middle).toBeGreaterThan(strewn);
  });

  test('initials find, letters strewn by chance do not', () => {
    expect(findScore('gosh', 'Go to the shop book')).toBeGreaterThan(0);
    expect(findScore('aeio', 'a very long line in which every vowel is somewhere: e, i, o')).toBe(0);
  });

  test('numbers are found as written', () => {
    expect(findScore('1003', 'E-1003')).toBeGreaterThan(0);
    expect(findScore('104', 'R 1.04 mm')).toBe(0);
  });

  test('the label counts more than the words behind it; equal fits keep their order', () => {
    const items = [
      { label: 'Blade punch', more: 'price' },
      { label: 'Price', more: '' },
      { label: 'Price of wire', more: '' },
    ];
    expect(findBest('price', items, (i) => i, 9).map((f) => f.item.label)).toEqual([
      'Price',
      'Price of wire',
      'Blade punch',
    ]);
    expect(findBest('', ['b', 'a'], label, 9).map((f) => f.item)).toEqual(['b', 'a']);
    expect(findBest('', ['b', 'a'], label, 1)).toHaveLength(1);
  });
});
