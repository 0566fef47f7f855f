import { describe, expect, test } from 'vitest';
import { isPlain, KeyWatch, keyCaps, type Press, pressName, SEQUENCE_MS } from './keys.js';

const press = (key: string, held: Partial<Press> = {}): Press => ({
  key,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  shiftKey: false,
  ...held,
});

describe('keys', () => {
  test('names of presses', () => {
    expect(pressName(press('k', { ctrlKey: true }))).toBe('Mod+K');
    expect(pressName(press('k', { metaKey: true }))).toBe('Mod+K');
    expect(pressName(press('Z', { ctrlKey: true, shiftKey: true }))).toBe('Mod+Shift+Z');
    expect(pressName(press('?', { shiftKey: true }))).toBe('?');
    expect(pressName(press('ArrowUp', { altKey: true }))).toBe('Alt+ArrowUp');
    expect(pressName(press('Shift', { shiftKey: true }))).toBeNull();
  });

  test('a sequence is complete with its last key, and only in time', () => {
    const known = new Set(['g d', 'g f', '?']);
    const watch = new KeyWatch();
    expect(watch.take(press('g'), known, 0)).toBeNull();
    expect(watch.take(press('d'), known, 300)).toBe('g d');
    expect(watch.take(press('g'), known, 1000)).toBeNull();
    expect(watch.take(press('d'), known, 1000 + SEQUENCE_MS + 1)).toBeNull();
  });

  test('another key in between breaks a sequence; a lone modifier does not', () => {
    const known = new Set(['g d']);
    const watch = new KeyWatch();
    watch.take(press('g'), known, 0);
    watch.take(press('x'), known, 100);
    expect(watch.take(press('d'), known, 200)).toBeNull();
    watch.take(press('g'), known, 300);
    watch.take(press('Control', { ctrlKey: true }), known, 350);
    expect(watch.take(press('d'), known, 400)).toBe('g d');
  });

  test('what counts as a plain sign', () => {
    expect(['g d', '?', '/', 'n'].every(isPlain)).toBe(true);
    expect(['Mod+K', 'Alt+ArrowUp', 'F2'].some(isPlain)).toBe(false);
  });

  test('caps shown', () => {
    expect(keyCaps('Mod+Shift+Z', false)).toEqual(['Ctrl', 'Shift', 'Z']);
    expect(keyCaps('Mod+K', true)).toEqual(['⌘', 'K']);
    expect(keyCaps('g d', false)).toEqual(['g', 'd']);
    expect(keyCaps('+', false)).toEqual(['+']);
  });
});
