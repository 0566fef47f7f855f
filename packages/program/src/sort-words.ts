import type { Problem } from '@gapwright/base';
import type { Block, Word } from './block-scanner.js';
import { type CompiledPost, GROUP_OF, type LetterRole, type ModalGroup, type ModalMeaning } from './compiled-post.js';
import type { NumberFormat } from './number-format.js';
import type { BlockFunction, Slot } from './post-functions.js';
import { readFailure } from './read-failure.js';

/** The words of a block by what they mean. */
export interface SortedWords {
  readonly modal: Partial<Record<ModalGroup, { readonly meaning: ModalMeaning; readonly word: Word }>>;
  readonly letters: Partial<Record<LetterRole, Word>>;
  /** An auxiliary function; it stands alone in its block. */
  readonly call: {
    readonly function: BlockFunction;
    readonly slots: Partial<Record<Slot, Word>>;
    readonly word: Word;
  } | null;
  /** A word the post passes over together with its whole block, or with all blocks until the next motion word. */
  readonly passed: 'block' | 'mode' | null;
  readonly first: Word | null;
}

/** Words reserved for the upper guide of a tapered cut. */
const TAPER_LETTERS = 'UV';

/** Sorts a block's words, or says which word cannot be understood. */
export function sortWords(block: Block, compiled: CompiledPost): SortedWords | Problem {
  const { words, line } = block;
  const modal: Partial<Record<ModalGroup, { meaning: ModalMeaning; word: Word }>> = {};
  const letters: Partial<Record<LetterRole, Word>> = {};
  let first: Word | null = null;
  let passed: 'block' | 'mode' | null = null;
  const unknown: Word[] = [];
  for (let i = 0; i < words.length; i++) {
    const word = words[i]!;
    if (word.letter === compiled.numberLetter) {
      if (i > 0) {
        return readFailure(
          'BLOCK-NUMBER',
          line,
          word.column,
          `block number ${word.letter} stands inside the block`,
          'Put it first',
        );
      }
      if (!Number.isInteger(word.value) || word.value < 0 || word.decimals >= 0) {
        return readFailure('BLOCK-NUMBER', line, word.column, `${word.value} is no block number`, 'Use a whole number');
      }
      continue;
    }
    first ??= word;
    const scope = compiled.passedOver.get(word.letter, word.value);
    if (scope !== undefined) {
      if (scope !== 'word') passed = scope;
      continue;
    }
    const candidates = compiled.functions.get(word.letter, word.value);
    if (candidates !== undefined && passed === null) return callFunction(block, word, candidates, compiled);
    const meaning = compiled.modal.get(word.letter, word.value);
    if (meaning !== undefined) {
      const group = GROUP_OF[meaning];
      const before = modal[group];
      if (before !== undefined) {
        const what = `${shown(word)} stands beside ${shown(before.word)}, which it excludes`;
        return readFailure('CONFLICTING-WORDS', line, word.column, what, 'Leave one of them');
      }
      modal[group] = { meaning, word };
      continue;
    }
    const role = compiled.roles.get(word.letter);
    if (role === undefined) {
      unknown.push(word);
      continue;
    }
    if (letters[role] !== undefined) {
      return readFailure(
        'DUPLICATE-WORD',
        line,
        word.column,
        `${word.letter} stands twice in the block`,
        'Leave one of them',
      );
    }
    letters[role] = word;
  }
  if (passed === null && unknown.length > 0) return unknownWord(line, unknown[0]!);
  return { modal, letters: passed === null ? letters : passedLetters(letters, passed), call: null, passed, first };
}

/** A passed-over mode still moves to its X and Y; a passed-over block does nothing. */
function passedLetters(
  letters: Partial<Record<LetterRole, Word>>,
  passed: 'block' | 'mode',
): Partial<Record<LetterRole, Word>> {
  if (passed === 'block') return {};
  const { x, y } = letters;
  return { ...(x === undefined ? {} : { x }), ...(y === undefined ? {} : { y }) };
}

function shown(word: Word): string {
  return `${word.letter}${word.value}`;
}

function unknownWord(line: number, word: Word): Problem {
  if (TAPER_LETTERS.includes(word.letter)) {
    const what = `${shown(word)} moves the upper guide (taper), which this reader does not support yet`;
    return readFailure('TAPER', line, word.column, what, 'Prove the cylindrical program');
  }
  const what = `${shown(word)} is not a word of this post definition`;
  return readFailure(
    'UNKNOWN-WORD',
    line,
    word.column,
    what,
    'Correct the program, or add the word to the post definition',
  );
}

function callFunction(
  block: Block,
  head: Word,
  candidates: readonly BlockFunction[],
  compiled: CompiledPost,
): SortedWords | Problem {
  const rest = block.words.filter((w) => w.letter !== compiled.numberLetter && !isPassedWord(w, compiled));
  for (const f of candidates) {
    const slots: Partial<Record<Slot, Word>> = {};
    const fits =
      rest.length === f.words.length &&
      f.words.every((template) => {
        const word = rest.find((w) => w.letter === template.letter);
        if (word === undefined) return false;
        if (template.slot === null) return word.value === template.value;
        slots[template.slot] = word;
        return true;
      });
    if (fits)
      return { modal: {}, letters: {}, call: { function: f, slots, word: head }, passed: null, first: rest[0]! };
  }
  const stranger = rest.find(
    (w) => !isKnown(w, compiled) && !candidates.some((f) => f.words.some((template) => template.letter === w.letter)),
  );
  if (stranger !== undefined) return unknownWord(block.line, stranger);
  const forms = candidates.map((f) =>
    f.words.map((w) => w.letter + (w.slot === null ? w.text : `{${w.slot}}`)).join(' '),
  );
  const what = `${shown(head)} needs a block of its own of the form ${forms.join(' or ')}`;
  return readFailure('FUNCTION-BLOCK', block.line, head.column, what, 'Give these words and no others');
}

function isKnown(word: Word, { modal, roles, functions }: CompiledPost): boolean {
  const { letter, value } = word;
  return roles.has(letter) || modal.get(letter, value) !== undefined || functions.get(letter, value) !== undefined;
}

function isPassedWord(word: Word, compiled: CompiledPost): boolean {
  return compiled.passedOver.get(word.letter, word.value) === 'word';
}

/** Refuses digits that the post's format would not write: a missing point or too many decimals. */
export function checkDigits(line: number, word: Word, format: NumberFormat): Problem | null {
  if (word.computed) return null;
  if (word.decimals < 0 && format.decimalPoint === 'always') {
    const what = `${word.letter} has a number without a decimal point, which controls read differently`;
    return readFailure('NO-DECIMAL-POINT', line, word.column, what, 'Write the decimal point');
  }
  if (word.decimals > format.decimals) {
    const what = `${word.letter} has ${word.decimals} decimals, the post definition allows ${format.decimals}`;
    return readFailure('TOO-MANY-DECIMALS', line, word.column, what, 'Round the number');
  }
  return null;
}
