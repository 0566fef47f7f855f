import { hasStop, type Problem, problem } from '@gapwright/base';
import { drawnFeaturesOf, type Plan, planWire, proofSetupOf, type WireOperation } from '@gapwright/planning';
import type { ShopBook } from '@gapwright/process';
import { type PostDefinition, readProgram } from '@gapwright/program';
import { type ProofResult, type ProofSetup, proveProgram } from '@gapwright/proof';
import type { JobFile } from './job-file.js';
import { type DrawingFile, type DrawingRun, isPlannable, readDrawing } from './read-drawing.js';
import { mergeProblems, programFileName, readOptionsOf, requestOf } from './run-job.js';

export interface ProveInputs {
  readonly text: string;
  /** File name of the program, without folders: it tells which set-up the text belongs to. */
  readonly programName: string;
  readonly post: PostDefinition;
  readonly drawing: DrawingFile;
  readonly job: JobFile;
  readonly book: ShopBook;
  readonly fitMm?: number;
}

/** What became of a program text held against a drawing. */
export interface ProofRun {
  readonly drawing: DrawingRun;
  /** Null when the drawing, the text or the facts of the set-up cannot be used. */
  readonly proof: ProofResult | null;
  readonly problems: readonly Problem[];
  /** True when the program text cannot be read, or the job does not tell which of its set-ups it belongs to. */
  readonly isInputBroken: boolean;
}

/**
 * Proves a program text against a drawing. The facts of the set-up come from the job file: those under the program's
 * name, or the only ones there are. A job without any is planned again to get them, for the operation whose program
 * has this name, else for the first.
 */
export function proveText(inputs: ProveInputs): ProofRun {
  const { job, book, post, text } = inputs;
  const drawing = readDrawing(inputs.drawing, readOptionsOf(job, inputs.fitMm));
  const failed = (problems: readonly Problem[], isInputBroken = false): ProofRun => ({
    drawing,
    proof: null,
    problems,
    isInputBroken,
  });
  if (drawing.profile === null || !isPlannable(drawing)) return failed(drawing.problems);
  const stated = statedSetUp(job, inputs.programName);
  if (stated === null) return failed([noSuchSetUp(job, inputs.programName)], true);
  const plan = planWire(drawing.profile.contours, requestOf(job), book);
  const setup = stated ?? plannedSetUp(plan, inputs.programName);
  const problems = mergeProblems(drawing.problems, stated === undefined ? plan.problems : []);
  if (setup === null || plan.features.length === 0) return failed(mergeProblems(problems, plan.problems));

  const read = readProgram(text, post);
  if (read.value === null || hasStop(read.problems)) return failed([...read.problems, ...problems], true);
  return {
    drawing,
    proof: proveProgram(read.value, setup, drawnFeaturesOf(plan)),
    problems: [...problems, ...read.problems],
    isInputBroken: false,
  };
}

/** The job's facts for this program; undefined when it has none at all, null when it has only those of other programs. */
function statedSetUp({ setUps }: JobFile, programName: string): ProofSetup | null | undefined {
  if (setUps === undefined) return undefined;
  const [only, ...others] = Object.values(setUps);
  const named = Object.hasOwn(setUps, programName) ? setUps[programName] : undefined;
  return named ?? (others.length === 0 ? only : null);
}

function noSuchSetUp({ setUps }: JobFile, programName: string): Problem {
  const names = Object.keys(setUps ?? {}).join(', ');
  return problem({
    code: 'JOB-NO-SET-UP',
    severity: 'stop',
    what: `The job file holds the set-ups of ${names}, not of ${programName}`,
    fix: 'Give the program file one of these names, so that it is clear which set-up it belongs to',
    at: { field: 'setUps' },
  });
}

function plannedSetUp(plan: Plan, programName: string): ProofSetup | null {
  const wires = plan.operations.filter((op): op is WireOperation => op.process === 'wire');
  const operation = wires.find((op) => programFileName(op.number) === programName) ?? wires[0];
  return operation === undefined ? null : proofSetupOf(plan, operation).setup;
}
