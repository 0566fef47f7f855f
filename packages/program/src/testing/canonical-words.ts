import type { PostDefinition } from '../post-definition.js';

/** What one block asks for, with everything that stands in force written out: names as one key, lengths in mm. */
export interface CanonicalBlock {
  readonly key: string;
  readonly numbers: readonly number[];
}

const firstOf = (words: string | readonly string[]): readonly string[] => (typeof words === 'string' ? [words] : words);

/**
 * The words of a text that the reader has accepted, in a form in which equal meaning is equal words: block numbers and
 * order are gone, and modal words, feeds and unchanged axes are written out. Own short parser; shares no code with the reader.
 */
export function canonicalWords(text: string, post: PostDefinition): { blocks: CanonicalBlock[]; comments: string } {
  const named = new Map<string, string>();
  for (const [name, words] of Object.entries(post.words)) {
    for (const w of firstOf(words)) named.set(w[0]! + Number(w.slice(1)), name);
  }
  const heads = new Set<string>();
  for (const f of Object.values(post.functions)) {
    for (const block of 'block' in f ? [f.block] : Object.values(f.levels)) {
      const head = block.split(' ')[0]!;
      heads.add(head.includes('{') ? head[0]! : head[0]! + Number(head.slice(1)));
    }
  }
  const offsetLetter = /([A-Z])\{offset\}/.exec(post.functions.setRegister.block)![1]!;
  const comment = post.comments.style === 'parentheses' ? /\(([^)]*)\)/g : /; ?(.*)/g;
  const comments: string[] = [];
  const blocks: CanonicalBlock[] = [];
  let unitMm = 1;
  let isIncremental = false;
  let mode = '';
  let feed = 0;
  let isCompensated = false;
  let at = { x: 0, y: 0 };
  for (const raw of text.split(/\r?\n/)) {
    const bare = raw.replace(comment, (_, inner: string) => {
      comments.push(inner);
      return ' ';
    });
    const words = [...bare.matchAll(/([A-Z])([+-]?[\d.]+)/g)].map((m) => ({ letter: m[1]!, value: Number(m[2]) }));
    const own = words.filter((w) => w.letter !== post.blockNumbers?.letter);
    if (own.some((w) => heads.has(w.letter + w.value) || heads.has(w.letter))) {
      const fixed = own.filter((w) => w.letter !== offsetLetter || !own.some((o) => o !== w && o.letter === 'L'));
      const offset = own.filter((w) => !fixed.includes(w)).map((w) => w.value * unitMm);
      blocks.push({
        key: fixed
          .map((w) => w.letter + w.value)
          .sort()
          .join(' '),
        numbers: offset,
      });
      continue;
    }
    const names = own.flatMap((w) => named.get(w.letter + w.value) ?? []);
    const value = (role: keyof PostDefinition['letters']) => own.find((w) => w.letter === post.letters[role])?.value;
    for (const name of names) {
      if (name === 'inch') unitMm = 25.4;
      else if (name === 'millimetre') unitMm = 1;
      else if (name === 'absolute' || name === 'incremental') isIncremental = name === 'incremental';
      else if (['rapid', 'line', 'arcClockwise', 'arcCounterClockwise'].includes(name)) mode = name;
    }
    feed = value('feed') === undefined ? feed : value('feed')! * unitMm;
    const side = names.find((n) => n.startsWith('compensation'));
    if (side === 'compensationOff' ? isCompensated : side !== undefined) {
      blocks.push({ key: `${side} ${value('register') ?? ''}`, numbers: [] });
      isCompensated = side !== 'compensationOff';
    }
    const x = value('x');
    const y = value('y');
    if (x === undefined && y === undefined && value('centreX') === undefined) continue;
    const from = at;
    const go = (start: number, v: number | undefined) =>
      v === undefined ? start : v * unitMm + (isIncremental ? start : 0);
    at = { x: go(at.x, x), y: go(at.y, y) };
    const numbers = [at.x, at.y];
    if (mode.startsWith('arc')) {
      const isRelative = post.arcs.centre === 'from start';
      numbers.push(value('centreX')! * unitMm + (isRelative ? from.x : 0));
      numbers.push(value('centreY')! * unitMm + (isRelative ? from.y : 0));
    }
    if (mode !== 'rapid') numbers.push(feed);
    blocks.push({ key: mode, numbers });
  }
  return { blocks, comments: comments.join(' ') };
}
