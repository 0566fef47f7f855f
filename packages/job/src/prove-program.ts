import { hasStop, type Problem } from '@gapwright/base';
import { planWire, proofSetupOf } from '@gapwright/planning';
import type { ShopBook } from '@gapwright/process';
import { type PostDefinition, readProgram } from '@gapwright/program';
import { type ProofResult, type ProofSetup, proveProgram } from '@gapwright/proof';
import type { JobFile } from './job-file.js';
import { type DrawingFile, type DrawingRun, isPlannable, readDrawing } from './read-drawing.js';
import { mergeProblems, readOptionsOf, requestOf } from './run-job.js';

export interface ProveInputs {
  readonly text: string;
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
  /** True when the program text itself cannot be read. */
  readonly isTextBroken: boolean;
}

/**
 * Proves a program text against a drawing. The facts of the set-up come from the job file; a job without them is
 * planned again to get them.
 */
export function proveText(inputs: ProveInputs): ProofRun {
  const { job, book, post, text } = inputs;
  const drawing = readDrawing(inputs.drawing, readOptionsOf(job, inputs.fitMm));
  const failed = (problems: readonly Problem[], isTextBroken = false): ProofRun => ({
    drawing,
    proof: null,
    problems,
    isTextBroken,
  });
  if (drawing.profile === null || !isPlannable(drawing)) return failed(drawing.problems);
  const plan = planWire(drawing.profile.contours, requestOf(job), book);
  const operation = plan.operations.find((op) => op.process === 'wire');
  const planned = operation?.process === 'wire' ? proofSetupOf(plan, operation).setup : null;
  const setup: ProofSetup | null = job.setUp ?? planned;
  const problems = mergeProblems(drawing.problems, job.setUp === undefined ? plan.problems : []);
  if (setup === null || plan.features.length === 0) return failed(mergeProblems(problems, plan.problems));

  const read = readProgram(text, post);
  if (read.value === null || hasStop(read.problems)) return failed([...read.problems, ...problems], true);
  const features = plan.features.map(({ id, role, contour, partSide }) => ({
    id,
    kind: role,
    contour,
    ...(partSide === undefined ? {} : { partSide }),
  }));
  return {
    drawing,
    proof: proveProgram(read.value, setup, features),
    problems: [...problems, ...read.problems],
    isTextBroken: false,
  };
}
