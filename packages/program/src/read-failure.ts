import { type Problem, problem } from '@gapwright/base';

/** A stop problem at a place in program text. */
export function readFailure(code: string, line: number, column: number, what: string, fix: string): Problem {
  return problem({
    code: `PROGRAM-${code}`,
    severity: 'stop',
    what: `Line ${line}, column ${column}: ${what}`,
    fix,
    at: { line, column },
  });
}
