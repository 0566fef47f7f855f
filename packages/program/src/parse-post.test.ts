import { describe, expect, it } from 'vitest';
import { parsePost } from './parse-post.js';
import { isoJson } from './testing/posts.js';

/** The shipped definition with one field, named by its path, replaced. */
function changed(path: string, value: unknown): unknown {
  const json = structuredClone(isoJson());
  const names = path.split('.');
  let at = json as Record<string, unknown>;
  for (const name of names.slice(0, -1)) at = at[name] as Record<string, unknown>;
  at[names.at(-1)!] = value;
  return json;
}

describe('parsePost', () => {
  it('accepts the shipped definition and freezes it', () => {
    const { value, problems } = parsePost(isoJson());
    expect(problems).toEqual([]);
    expect(Object.isFrozen(value) && Object.isFrozen(value!.numbers.coordinate)).toBe(true);
  });

  it('marks everything ISO 6983-1 leaves open as a placeholder', () => {
    const { functions } = parsePost(isoJson()).value!;
    const open = Object.entries(functions).filter(([, f]) => f.placeholder);
    expect(open.map(([name]) => name)).toEqual([
      'setRegister',
      'selectLevel',
      'threadWire',
      'cutWire',
      'fluidOn',
      'fluidOff',
    ]);
    for (const [, f] of open) expect(f.note).toMatch(/^placeholder: put your control's/);
  });

  it.each<[string, string, unknown, string, string]>([
    ['an unknown field', 'nonsense', 1, 'FIELD', 'the whole'],
    ['a missing field', 'unit', undefined, 'FIELD', 'unit'],
    ['a word that is none', 'words.rapid', 'rapid', 'FIELD', 'words.rapid'],
    ['two meanings for one word', 'words.rapid', 'G01', 'AMBIGUOUS', 'words.line'],
    ['the same word in another spelling', 'words.rapid', 'G1', 'AMBIGUOUS', 'words.line'],
    ['one letter for two axes', 'letters.x', 'Y', 'AMBIGUOUS', 'letters.y'],
    ['the block number letter for a feed', 'letters.feed', 'N', 'AMBIGUOUS', 'blockNumbers.letter'],
    ['a function word that is modal', 'functions.threadWire.block', 'G01', 'AMBIGUOUS', 'functions'],
    ['a function word on an axis letter', 'functions.threadWire.block', 'X50', 'AMBIGUOUS', 'functions'],
    ['two functions of the same words', 'functions.threadWire.block', 'M51', 'AMBIGUOUS', 'functions'],
    ['a level word on the feed letter', 'functions.selectLevel.block', 'F{level}', 'AMBIGUOUS', 'functions'],
    ['a register block without slots', 'functions.setRegister.block', 'G10 L1', 'FUNCTION', 'functions.setRegister'],
    ['a slot where none belongs', 'functions.threadWire.block', 'M{level}', 'FUNCTION', 'functions.threadWire'],
    [
      'a letter twice in a block',
      'functions.setRegister.block',
      'G10 G11 P{register} R{offset}',
      'FUNCTION',
      'functions.setRegister',
    ],
    ['a block that is no words', 'functions.stop.block', 'STOP', 'FUNCTION', 'functions.stop'],
    ['a header that sets another unit', 'header', ['G17 G70 G90'], 'HEADER', 'header'],
    ['a header without distance mode', 'header', ['G17 G71'], 'HEADER', 'header'],
    ['a header that cannot be read', 'header', ['G17 G71 G90 Q1'], 'HEADER', 'header'],
    ['a header that does something', 'header', ['G17 G71 G90', 'M52'], 'HEADER', 'header and footer'],
    ['a footer that cannot be read', 'footer', ['Q1'], 'HEADER', 'footer'],
    ['a replacement that ends the comment', 'comments.replace', { µ: ')' }, 'COMMENT', 'comments.replace'],
    [
      'absolute centres with one word',
      'arcs',
      { ...(isoJson().arcs as object), centre: 'absolute', bothCentreWords: false },
      'ARCS',
      'arcs.bothCentreWords',
    ],
  ])('refuses %s', (_, path, value, code, field) => {
    const result = parsePost(changed(path, value));
    expect(result.value).toBeNull();
    expect(result.problems.map((p) => [p.code, p.at?.field])).toContainEqual([`PROGRAM-POST-${code}`, field]);
  });

  it.each([null, 3, 'text', [], {}])('refuses %j without throwing', (json) => {
    expect(parsePost(json).value).toBeNull();
  });
});
