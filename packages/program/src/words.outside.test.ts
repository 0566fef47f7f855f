import { outsideCheck } from '@gapwright/base/testing';
import fc from 'fast-check';
import Interpreter from 'gcode-interpreter';
import { describe, expect, it } from 'vitest';
import { ISO, OTHER } from './testing/posts.js';
import { randomSteps } from './testing/random-steps.js';
import { scanWords } from './testing/scan-words.js';
import { writeProgram } from './write-program.js';

describe('words of written text', () => {
  for (const post of [ISO, OTHER]) {
    it(`of post "${post.id}" are the ones an independent parser finds`, () => {
      let words = 0;
      let different = 0;
      fc.assert(
        fc.property(randomSteps, (steps) => {
          const { text } = writeProgram(steps, post, { title: 'Words', notes: [] }).value!;
          // Comments are not compared: the other parser knows other rules for them.
          const bare = text
            .split(/\r?\n/)
            .map((l) => l.replace(/\(.*\)|;.*/, ''))
            .join('\n');
          const mine = scanWords(text, post).flat();
          const theirs = new Interpreter({}).loadFromStringSync(bare).flatMap((l) => [...l.words]);
          expect(theirs.length).toBe(mine.length);
          mine.forEach(([letter, value], i) => {
            words++;
            if (theirs[i]![0] !== letter || theirs[i]![1] !== value) different++;
          });
        }),
        { numRuns: 60, seed: 274 },
      );
      expect(words).toBeGreaterThan(1000);
      outsideCheck({
        id: `program-words-${post.id}`,
        what: `words read differently, of ${words} written with post "${post.id}"`,
        ours: different,
        theirs: 0,
        unit: '1',
        allowed: 0,
        why: 'letters and decimals have one reading',
        source: 'gcode-interpreter 3.0.0 (npm)',
        standing: 'library',
      });
    });
  }
});
