import { hasStop, type Problem, problem, type Result } from '@gapwright/base';
import { isProven, type JobInputs, type JobRun, planDocument, priceDocument, runJob, studyPrice } from '@gapwright/job';
import { type HandOverFile, handOverFiles } from './hand-over-files.js';

/** An offer ready to be kept: what was handed over, what it rests on, and what it says. */
export interface HandOver {
  readonly files: readonly HandOverFile[];
  /** The whole answer as plain JSON data, from which the plan can be opened again as it was offered. */
  readonly sheet: object;
  readonly quantity: number;
  /** Price per piece offered, in `currency`. */
  readonly unitPrice: number;
  readonly currency: string;
  /** Chance, 0 to 1, that a piece costs more than its price. */
  readonly lossRisk: number;
}

/**
 * Runs a job and makes everything that leaves the desk with an offer. Refused, with a way out, when a problem stops the
 * job or a program failed its proof; the job's own problems come along either way.
 */
export function makeHandOver(inputs: JobInputs, day: string): Result<HandOver> {
  const run = runJob(inputs);
  const refusal = notOffered(run);
  if (refusal !== null || run.offer === null) return { value: null, problems: [...(refusal ?? []), ...run.problems] };
  const study = studyPrice(run, inputs);
  const { quantity, unitPrice, currency, lossRisk } = run.offer;
  const value = {
    files: handOverFiles(run, inputs, day, study),
    sheet: {
      plan: planDocument(run, inputs.drawing.fileName),
      price: priceDocument(run, study, inputs.drawing.fileName),
    },
    quantity,
    unitPrice: unitPrice.value,
    currency,
    lossRisk: lossRisk.value,
  };
  return { value, problems: run.problems };
}

/** Why a run cannot be offered: a problem stops it, or a program is not proved. Null when it can. */
export function notOffered(run: JobRun): Problem[] | null {
  if (run.plan === null || run.offer === null || hasStop(run.problems)) {
    const stops = run.problems.filter((p) => p.severity === 'stop').length;
    return [
      problem({
        code: 'HAND-OVER-STOPPED',
        severity: 'stop',
        what: `The job is stopped by ${stops === 1 ? 'a problem' : `${stops} problems`}, so there is nothing to hand over`,
        fix: 'Solve what the job sheet lists as stopping it, then ask again',
      }),
    ];
  }
  return isProven(run) ? null : [notProven(run)];
}

function notProven(run: JobRun): Problem {
  const failed = run.programs.filter((p) => p.proof.verdict !== 'pass').map((p) => p.fileName);
  return problem({
    code: 'HAND-OVER-NOT-PROVEN',
    severity: 'stop',
    what: `The proof of ${failed.length === 0 ? 'the program' : failed.join(', ')} failed, so no price can go out`,
    fix: 'Read what the proof found, change the plan or ask the customer for the change, then ask again',
  });
}
