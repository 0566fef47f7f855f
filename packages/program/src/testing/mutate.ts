import type { Random } from '@gapwright/base';

const ALPHABET = ' \t\n\r%()/;#[]+-.,*=0123456789ABDEFGHIJKLMNPQRSTUXYZaxµ\u0000';
const WORD = /[A-Z][+-]?[\d.]+ ?/g;
const NUMBER = /[+-]?\d*\.?\d+\.?/g;

type Mutation = (text: string, random: Random) => string;

const spliced = (text: string, at: number, drop: number, put: string): string =>
  text.slice(0, at) + put + text.slice(at + drop);

/** The first match behind a random place, or the first of all. */
function someMatch(text: string, pattern: RegExp, random: Random): { at: number; text: string } | null {
  pattern.lastIndex = random.below(text.length + 1);
  const match = pattern.exec(text) ?? pattern.exec(text);
  return match === null ? null : { at: match.index, text: match[0] };
}

function onNumber(change: (number: string, random: Random) => string): Mutation {
  return (text, random) => {
    const number = someMatch(text, NUMBER, random);
    return number === null ? text : spliced(text, number.at, number.text.length, change(number.text, random));
  };
}

function onLines(change: (lines: string[], at: number, random: Random) => void): Mutation {
  return (text, random) => {
    const lines = text.split('\n');
    change(lines, random.below(lines.length), random);
    return lines.join('\n');
  };
}

const MUTATIONS: readonly Mutation[] = [
  (t, r) => spliced(t, r.below(t.length + 1), 1, ALPHABET[r.below(ALPHABET.length)]!),
  (t, r) => spliced(t, r.below(t.length + 1), 0, ALPHABET[r.below(ALPHABET.length)]!),
  (t, r) => spliced(t, r.below(t.length + 1), 1 + r.below(3), ''),
  (t, r) => {
    const at = r.below(Math.max(1, t.length - 1));
    return spliced(t, at, 2, (t[at + 1] ?? '') + (t[at] ?? ''));
  },
  (t, r) => t.slice(0, r.below(t.length + 1)),
  onNumber((n) => (n.startsWith('-') ? n.slice(1) : `-${n.replace('+', '')}`)),
  onNumber((n) => n.replace('.', '')),
  onNumber((n) => n.replace('.', ',')),
  onNumber((n, r) => n + r.below(10)),
  onNumber((n, r) => String(r.below(300)) + (n.includes('.') ? '.' : '')),
  onNumber((n) => n.replace(/\d(?=\D*$)/, (d) => String((Number(d) + 1) % 10))),
  onNumber(() => ''),
  onNumber((n) => n.repeat(8)),
  onLines((lines, at) => lines.splice(at, 1)),
  onLines((lines, at) => lines.splice(at, 0, lines[at]!)),
  onLines((lines, at, r) => {
    const other = r.below(lines.length);
    [lines[at], lines[other]] = [lines[other]!, lines[at]!];
  }),
  (t, r) => {
    const word = someMatch(t, WORD, r);
    return word === null ? t : spliced(t, word.at, word.text.length, '');
  },
  (t, r) => {
    const word = someMatch(t, WORD, r);
    return word === null ? t : spliced(t, word.at, 0, word.text);
  },
];

/** The text after one to three random accidents. */
export function mutate(text: string, random: Random): string {
  let out = text;
  for (let n = 1 + random.below(3); n > 0; n--) out = MUTATIONS[random.below(MUTATIONS.length)]!(out, random);
  return out;
}
