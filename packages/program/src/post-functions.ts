import { type Problem, problem } from '@gapwright/base';
import type { PostDefinition } from './post-definition.js';

/** What an auxiliary block asks for. */
export type FunctionMeaning =
  | 'set-register'
  | 'select-level'
  | 'thread-wire'
  | 'cut-wire'
  | 'fluid-on'
  | 'fluid-off'
  | 'stop'
  | 'optional-stop'
  | 'end';

export type Slot = 'register' | 'offset' | 'level';

/** One word of a block template: a fixed number, or a slot to be filled. */
interface TemplateWord {
  readonly letter: string;
  /** The number as written in the template; empty for a slot. */
  readonly text: string;
  readonly value: number;
  readonly slot: Slot | null;
}

/** A block that stands for one auxiliary function. */
export interface BlockFunction {
  readonly meaning: FunctionMeaning;
  /** Level this block selects when it has no slot for it. */
  readonly level: number | null;
  readonly words: readonly TemplateWord[];
}

const SLOTS: Readonly<Record<FunctionMeaning, readonly Slot[]>> = {
  'set-register': ['register', 'offset'],
  'select-level': ['level'],
  'thread-wire': [],
  'cut-wire': [],
  'fluid-on': [],
  'fluid-off': [],
  stop: [],
  'optional-stop': [],
  end: [],
};

const TEMPLATE_WORD = /^([A-Z])(?:(\d+(?:\.\d+)?)|\{(register|offset|level)\})$/;

function bad(field: string, what: string, fix: string): Problem {
  return problem({ code: 'PROGRAM-POST-FUNCTION', severity: 'stop', what: `${field}: ${what}`, fix, at: { field } });
}

function parseTemplate(
  field: string,
  block: string,
  meaning: FunctionMeaning,
  level: number | null,
): BlockFunction | Problem {
  const words: TemplateWord[] = [];
  for (const part of block.trim().split(/\s+/)) {
    const match = TEMPLATE_WORD.exec(part);
    if (match === null) {
      return bad(
        field,
        `"${part}" is not a word`,
        'Write a capital letter with a number, or with {register}, {offset} or {level}',
      );
    }
    const slot = (match[3] as Slot | undefined) ?? null;
    words.push({ letter: match[1]!, text: match[2] ?? '', value: slot === null ? Number(match[2]) : 0, slot });
  }
  const letters = words.map((w) => w.letter);
  if (new Set(letters).size !== letters.length) {
    return bad(field, `"${block}" uses a letter twice`, 'Use each letter once in a block');
  }
  const found = words
    .flatMap((w) => (w.slot === null ? [] : [w.slot]))
    .sort()
    .join(', ');
  const wanted = level === null ? [...SLOTS[meaning]].sort().join(', ') : '';
  if (found !== wanted) {
    return bad(field, `"${block}" has the slots [${found}], wanted [${wanted}]`, 'Give each slot exactly once');
  }
  return { meaning, level, words };
}

/** All auxiliary blocks of a post, or what is wrong with them. */
export function parseFunctions(post: PostDefinition): {
  readonly functions: readonly BlockFunction[];
  readonly problems: readonly Problem[];
} {
  const { functions: f } = post;
  const functions: BlockFunction[] = [];
  const problems: Problem[] = [];
  const add = (name: string, block: string, meaning: FunctionMeaning, level: number | null = null): void => {
    const parsed = parseTemplate(`functions.${name}`, block, meaning, level);
    if ('code' in parsed) problems.push(parsed);
    else functions.push(parsed);
  };
  add('setRegister', f.setRegister.block, 'set-register');
  if ('block' in f.selectLevel) add('selectLevel', f.selectLevel.block, 'select-level');
  else {
    for (const [level, block] of Object.entries(f.selectLevel.levels)) {
      add(`selectLevel.levels.${level}`, block, 'select-level', Number(level));
    }
  }
  add('threadWire', f.threadWire.block, 'thread-wire');
  add('cutWire', f.cutWire.block, 'cut-wire');
  add('fluidOn', f.fluidOn.block, 'fluid-on');
  add('fluidOff', f.fluidOff.block, 'fluid-off');
  add('stop', f.stop.block, 'stop');
  add('optionalStop', f.optionalStop.block, 'optional-stop');
  add('end', f.end.block, 'end');
  return { functions, problems };
}

/** True when some block could be read as either function. */
export function couldBeConfused(a: BlockFunction, b: BlockFunction): boolean {
  if (a.words.length !== b.words.length) return false;
  return a.words.every((wa) => {
    const wb = b.words.find((w) => w.letter === wa.letter);
    return wb !== undefined && (wa.slot !== null || wb.slot !== null || wa.value === wb.value);
  });
}
