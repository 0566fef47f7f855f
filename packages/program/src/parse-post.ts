import { hasStop, type Problem, problem, type Result } from '@gapwright/base';
import { INCH_MM, spellings } from './compiled-post.js';
import { type PostDefinition, postSchema } from './post-definition.js';
import { couldBeConfused, parseFunctions } from './post-functions.js';
import { readBlocks } from './read-program.js';

function postProblem(code: string, field: string, what: string, fix: string): Problem {
  return problem({
    code: `PROGRAM-POST-${code}`,
    severity: 'stop',
    what: `Post definition, ${field}: ${what}`,
    fix,
    at: { field },
  });
}

/**
 * Checks a post definition (parsed JSON) and gives it back as plain frozen data.
 * Beyond the shape of the fields it must be readable: no two meanings share a word, and the header leaves the control
 * in the unit and distance mode the writer will use.
 */
export function parsePost(json: unknown): Result<PostDefinition> {
  const parsed = postSchema.safeParse(json);
  if (!parsed.success) {
    const problems = parsed.error.issues.map((issue) => {
      const field = issue.path.join('.') || 'the whole';
      return postProblem('FIELD', field, issue.message, 'See docs/post-definition.md for the field');
    });
    return { value: null, problems };
  }
  const post = deepFreeze(parsed.data);
  const { functions, problems: functionProblems } = parseFunctions(post);
  const problems: Problem[] = [...functionProblems];
  for (let i = 0; i < functions.length; i++) {
    for (let j = i + 1; j < functions.length; j++) {
      if (!couldBeConfused(functions[i]!, functions[j]!)) continue;
      const what = `the blocks for ${functions[i]!.meaning} and ${functions[j]!.meaning} cannot be told apart`;
      problems.push(postProblem('AMBIGUOUS', 'functions', what, 'Give each its own words'));
    }
  }
  problems.push(
    ...wordClashes(
      post,
      functions.map((f) => f.words[0]!),
    ),
  );
  problems.push(...commentProblems(post));
  if (post.arcs.centre === 'absolute' && !post.arcs.bothCentreWords) {
    const what = 'absolute centres need both centre words';
    problems.push(postProblem('ARCS', 'arcs.bothCentreWords', what, 'Set it to true'));
  }
  if (!hasStop(problems)) problems.push(...headerProblems(post));
  return hasStop(problems) ? { value: null, problems } : { value: post, problems };
}

/** Every first word and every letter with a free number may mean one thing only. */
function wordClashes(
  post: PostDefinition,
  heads: readonly { readonly letter: string; readonly value: number; readonly slot: unknown }[],
): Problem[] {
  const problems: Problem[] = [];
  const letters = new Map<string, string>();
  const claimLetter = (letter: string, by: string): void => {
    const before = letters.get(letter);
    if (before !== undefined) {
      problems.push(postProblem('AMBIGUOUS', by, `letter ${letter} already means ${before}`, 'Use another letter'));
    }
    letters.set(letter, by);
  };
  for (const [role, letter] of Object.entries(post.letters))
    if (letter !== null) claimLetter(letter, `letters.${role}`);
  if (post.blockNumbers !== null) claimLetter(post.blockNumbers.letter, 'blockNumbers.letter');
  const slotHeads = new Set(heads.filter((h) => h.slot !== null).map((h) => h.letter));
  for (const letter of slotHeads) claimLetter(letter, 'functions');
  const keys = new Map<string, string>();
  const claimWord = (letter: string, value: number, by: string, mayRepeat: boolean): void => {
    const key = letter + value;
    const before = keys.get(key);
    if (before !== undefined && !(mayRepeat && before === by)) {
      problems.push(postProblem('AMBIGUOUS', by, `word ${key} already means ${before}`, 'Use another word'));
    }
    const owner = letters.get(letter);
    if (owner !== undefined) {
      problems.push(postProblem('AMBIGUOUS', by, `word ${key} uses the letter of ${owner}`, 'Use another word'));
    }
    keys.set(key, by);
  };
  for (const meaning of Object.keys(post.words) as (keyof PostDefinition['words'])[]) {
    for (const text of spellings(post, meaning)) claimWord(text[0]!, Number(text.slice(1)), `words.${meaning}`, false);
  }
  for (const head of heads) if (head.slot === null) claimWord(head.letter, head.value, 'functions', true);
  return problems;
}

function commentProblems(post: PostDefinition): Problem[] {
  const forbidden = post.comments.style === 'parentheses' ? /[()]/ : /;/;
  const problems: Problem[] = [];
  for (const [from, to] of Object.entries(post.comments.replace)) {
    if (/^[\x20-\x7e]*$/.test(to) && !forbidden.test(to)) continue;
    const what = `"${from}" would become "${to}", which a comment cannot hold`;
    problems.push(postProblem('COMMENT', 'comments.replace', what, 'Use plain characters that do not end the comment'));
  }
  return problems;
}

function headerProblems(post: PostDefinition): Problem[] {
  const { reader, problems } = readBlocks(post.header.join('\n'), post);
  const first = problems[0];
  if (first !== undefined) return [postProblem('HEADER', 'header', first.message, 'Correct the header block')];
  const footer = readBlocks([...post.header, ...post.footer].join('\n'), post);
  const second = footer.problems[0];
  if (second !== undefined) return [postProblem('HEADER', 'footer', second.message, 'Correct the footer block')];
  if (footer.reader.motions.length > 0) {
    const what = `a block does something (${footer.reader.motions[0]!.kind})`;
    return [postProblem('HEADER', 'header and footer', what, 'Leave only words that set a state')];
  }
  const out: Problem[] = [];
  if (reader.unitMm !== (post.unit === 'inch' ? INCH_MM : 1)) {
    out.push(postProblem('HEADER', 'header', `it does not set the unit (${post.unit})`, 'Add the unit word'));
  }
  if (reader.distance !== post.distance) {
    out.push(postProblem('HEADER', 'header', `it does not set ${post.distance} distances`, 'Add that word'));
  }
  return out;
}

function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const inner of Object.values(value)) deepFreeze(inner);
  }
  return value;
}
