import { BugError } from '@gapwright/base';
import type { PostDefinition } from './post-definition.js';
import { type BlockFunction, type FunctionMeaning, parseFunctions } from './post-functions.js';
import { WordTable } from './word-table.js';

/** What a single modal word does. */
export type ModalMeaning = keyof PostDefinition['words'];

/** Words of one group exclude each other in a block. */
export type ModalGroup = 'motion' | 'plane' | 'unit' | 'distance' | 'compensation';

export const GROUP_OF: Readonly<Record<ModalMeaning, ModalGroup>> = {
  rapid: 'motion',
  line: 'motion',
  arcClockwise: 'motion',
  arcCounterClockwise: 'motion',
  planeXY: 'plane',
  inch: 'unit',
  millimetre: 'unit',
  absolute: 'distance',
  incremental: 'distance',
  compensationOff: 'compensation',
  compensationLeft: 'compensation',
  compensationRight: 'compensation',
};

/** What a letter with a free number carries. */
export type LetterRole = 'x' | 'y' | 'centreX' | 'centreY' | 'radius' | 'feed' | 'register';

type PassScope = 'word' | 'block' | 'mode';

/** Look-up tables of a post, made once. */
export interface CompiledPost {
  readonly post: PostDefinition;
  readonly modal: WordTable<ModalMeaning>;
  readonly roles: ReadonlyMap<string, LetterRole>;
  /** Functions by their first word: its fixed number, or any number when it is a slot. */
  readonly functions: WordTable<readonly BlockFunction[]>;
  readonly byMeaning: ReadonlyMap<FunctionMeaning, readonly BlockFunction[]>;
  readonly passedOver: WordTable<PassScope>;
  readonly numberLetter: string | null;
  /** Millimetres in the unit the post writes. */
  readonly unitMm: number;
}

/** Millimetres in an inch, exact by definition. */
export const INCH_MM = 25.4;

/** The spellings of one modal meaning; the first is the one written. */
export function spellings(post: PostDefinition, meaning: ModalMeaning): readonly string[] {
  const given = post.words[meaning];
  return typeof given === 'string' ? [given] : given;
}

const known = new WeakMap<PostDefinition, CompiledPost>();

/** Tables of a post that `parsePost` has accepted. */
export function compilePost(post: PostDefinition): CompiledPost {
  const seen = known.get(post);
  if (seen !== undefined) return seen;
  const { functions: list, problems } = parseFunctions(post);
  if (problems.length > 0) throw new BugError(`post "${post.id}" did not come from parsePost`);
  const modal = new WordTable<ModalMeaning>();
  for (const meaning of Object.keys(post.words) as ModalMeaning[]) {
    for (const text of spellings(post, meaning)) modal.set(text[0]!, Number(text.slice(1)), meaning);
  }
  const roles = new Map<string, LetterRole>();
  for (const role of Object.keys(post.letters) as LetterRole[]) {
    const letter = post.letters[role];
    if (letter !== null) roles.set(letter, role);
  }
  const functions = new WordTable<readonly BlockFunction[]>();
  const byMeaning = new Map<FunctionMeaning, BlockFunction[]>();
  for (const f of list) {
    const head = f.words[0]!;
    const value = head.slot === null ? head.value : null;
    functions.set(head.letter, value, [...(functions.get(head.letter, value) ?? []), f]);
    byMeaning.set(f.meaning, [...(byMeaning.get(f.meaning) ?? []), f]);
  }
  const passedOver = new WordTable<PassScope>();
  for (const { word, scope } of post.reading.passedOver) {
    passedOver.set(word[0]!, word.length === 1 ? null : Number(word.slice(1)), scope);
  }
  const compiled: CompiledPost = {
    post,
    modal,
    roles,
    functions,
    byMeaning,
    passedOver,
    numberLetter: post.blockNumbers?.letter ?? null,
    unitMm: post.unit === 'inch' ? INCH_MM : 1,
  };
  known.set(post, compiled);
  return compiled;
}
