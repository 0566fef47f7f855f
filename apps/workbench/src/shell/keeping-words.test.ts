import { expect, test } from 'vitest';
import { type KeepingState, keepingWords } from './keeping-words.js';

const state = (part: Partial<KeepingState>): KeepingState => ({
  server: 'connected',
  saving: 0,
  waiting: 0,
  conflicts: 0,
  ...part,
});

test('"Saved" is said only when nothing waits anywhere', () => {
  expect(keepingWords(state({})).text).toBe('Saved');
  expect(keepingWords(state({ waiting: 1 })).text).toBe('Kept on this device');
  expect(keepingWords(state({ waiting: 2, server: 'away' })).more).toBe('2 changes wait for the server');
  expect(keepingWords(state({ saving: 1, waiting: 2 })).text).toBe('Saving …');
  expect(keepingWords(state({ server: 'starting' })).text).not.toBe('Saved');
});

test('a conflict comes before everything else', () => {
  const words = keepingWords(state({ saving: 1, waiting: 1, conflicts: 2 }));
  expect(words.needsYou).toBe(true);
  expect(words.text).toBe('2 jobs were changed on two devices');
});
