import { type Problem, problem } from '@gapwright/base';
import type { Point } from '@gapwright/geometry';

/** A finding that fails the proof, at a line of the program and, when known, a place in the plane. */
export function failAtLine(code: string, line: number, what: string, fix: string, p?: Point): Problem {
  const place = p === undefined ? {} : { xMm: p.x, yMm: p.y };
  return problem({ code, severity: 'stop', what: `Line ${line}: ${what}`, fix, at: { line, ...place } });
}

/** A place as text. */
export const placeOf = (p: Point): string => `(${p.x.toFixed(3)}, ${p.y.toFixed(3)})`;
