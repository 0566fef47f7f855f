import { hasStop, type Problem, problem } from '@gapwright/base';
import { isProven, type JobRun } from '@gapwright/job';

/** Why a run cannot be offered: a problem stops it, or a program is not proved. Null when it can. */
export function notOffered(run: JobRun): Problem | null {
  if (run.plan === null || run.offer === null || hasStop(run.problems)) {
    const stops = run.problems.filter((p) => p.severity === 'stop').length;
    return problem({
      code: 'HAND-OVER-STOPPED',
      severity: 'stop',
      what: `The job is stopped by ${stops === 1 ? 'a problem' : `${stops} problems`}, so there is nothing to hand over`,
      fix: 'Solve what is listed as stopping it, then ask again',
    });
  }
  return isProven(run) ? null : notProven(run);
}

function notProven({ programs }: JobRun): Problem {
  const failed = programs.filter((p) => p.proof.verdict !== 'pass').map((p) => p.fileName);
  const what =
    failed.length === 0
      ? 'The plan has no program that could be proved, so no price can go out'
      : `The proof of ${failed.join(', ')} failed, so no price can go out`;
  return problem({
    code: 'HAND-OVER-NOT-PROVEN',
    severity: 'stop',
    what,
    fix: 'Read what the proof found, change the plan or agree the change with the customer, then ask again',
  });
}

export function badDay(day: string): Problem {
  return problem({
    code: 'HAND-OVER-BAD-DAY',
    severity: 'stop',
    what: `${JSON.stringify(day.slice(0, 40))} is not a day`,
    fix: 'Write the day on the papers as 2026-11-25',
    at: { field: 'day' },
  });
}

export function noProgram(operation: number | null, { programs }: JobRun): Problem {
  const numbers = programs.map((p) => p.operation).join(' or ');
  return problem({
    code: 'HAND-OVER-NO-PROGRAM',
    severity: 'stop',
    what: operation === null ? 'No operation has a program' : `Operation ${operation} has no program`,
    fix: numbers === '' ? 'Plan a wire operation first' : `Ask for the set-up sheet of operation ${numbers}`,
    at: { field: 'operation' },
  });
}
