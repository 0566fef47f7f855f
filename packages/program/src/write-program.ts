import { BugError, hasStop, type Problem, problem, type Result } from '@gapwright/base';
import { compilePost } from './compiled-post.js';
import { StepLowering } from './lower-steps.js';
import type { Motion } from './motion.js';
import type { PostDefinition } from './post-definition.js';
import { readProgram } from './read-program.js';
import type { ProgramStep } from './step.js';
import { writeMotions } from './write-motions.js';

export interface ProgramHead {
  /** First comment of the program. */
  readonly title: string;
  /** Further comments above the first block. */
  readonly notes: readonly string[];
}

export interface WrittenProgram {
  readonly text: string;
  /** What the text says, read back from it. */
  readonly motions: readonly Motion[];
}

/**
 * Turns ordered steps into program text.
 *
 * A cut's lead-in must begin and its lead-out end with a line: on these compensation is switched on and off. Every
 * position is rounded on its own, so rounding never adds up; arcs get a centre on the post's digits that fits the
 * rounded ends. Segments shorter than the last digit are left out. A `thread-wire` step first moves to its place.
 *
 * The text is read back before it is handed over; a difference is a fault of ours and throws a BugError.
 */
export function writeProgram(
  steps: readonly ProgramStep[],
  post: PostDefinition,
  head: ProgramHead,
): Result<WrittenProgram> {
  const compiled = compilePost(post);
  const lowering = new StepLowering(compiled);
  lowering.note(head.title);
  for (const note of head.notes) lowering.note(note);
  for (const step of steps) lowering.step(step);
  lowering.end();
  const problems = [...lowering.problems, ...placeholderProblems(lowering.motions, post)];
  if (hasStop(problems)) return { value: null, problems };
  const text = writeMotions(lowering.motions, post);
  const { value: motions, problems: readProblems } = readProgram(text, post);
  if (motions === null) throw new BugError(`written text cannot be read: ${readProblems[0]?.message}`);
  const difference = firstDifference(lowering.motions, motions);
  if (difference !== null) throw new BugError(`written text reads differently: ${difference}`);
  return { value: { text, motions }, problems };
}

/** The first motion in which two lists differ, as text; places in the text do not count. Null when they are the same. */
export function firstDifference(a: readonly Motion[], b: readonly Motion[]): string | null {
  for (let i = 0; i < Math.max(a.length, b.length); i++) {
    const left = withoutPlace(a[i]);
    const right = withoutPlace(b[i]);
    if (left !== right) return `motion ${i + 1}: ${left} against ${right}`;
  }
  return null;
}

function withoutPlace(motion: Motion | undefined): string {
  if (motion === undefined) return 'nothing';
  const entries = Object.entries(motion).filter(([key]) => key !== 'place');
  return JSON.stringify(Object.fromEntries(entries.sort(([a], [b]) => (a < b ? -1 : 1))));
}

/** Which function of the post a motion uses. */
function functionOf(motion: Motion): keyof PostDefinition['functions'] | null {
  switch (motion.kind) {
    case 'set-register':
      return 'setRegister';
    case 'select-level':
      return 'selectLevel';
    case 'thread-wire':
      return 'threadWire';
    case 'cut-wire':
      return 'cutWire';
    case 'fluid':
      return motion.on ? 'fluidOn' : 'fluidOff';
    case 'stop':
      return motion.optional ? 'optionalStop' : 'stop';
    case 'end':
      return 'end';
    default:
      return null;
  }
}

/** One reminder that names the words which the shop has not yet replaced by its control's own. */
function placeholderProblems(motions: readonly Motion[], post: PostDefinition): Problem[] {
  const used = new Set(motions.map(functionOf));
  const open: string[] = [];
  for (const name of Object.keys(post.functions) as (keyof PostDefinition['functions'])[]) {
    const f = post.functions[name];
    if (!used.has(name) || !f.placeholder) continue;
    open.push(`${name} (${'block' in f ? f.block : Object.values(f.levels).join(' or ')})`);
  }
  if (open.length === 0) return [];
  return [
    problem({
      code: 'PROGRAM-PLACEHOLDER',
      severity: 'info',
      what: `The program holds placeholder words of post definition "${post.id}": ${open.join(', ')}`,
      fix: "Put your control's own words into the post definition before the program goes to the machine",
    }),
  ];
}
