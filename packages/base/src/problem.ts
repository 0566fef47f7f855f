/** How much a problem matters: `stop` yields no program, `warn` needs a decision, `info` is worth knowing. */
export type Severity = 'stop' | 'warn' | 'info';

/** Where a problem sits: a place on the drawing, in a file, or in the plan. Only what is known is filled in. */
export interface Place {
  readonly xMm?: number;
  readonly yMm?: number;
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  readonly layer?: string;
  readonly handle?: string;
  readonly feature?: string;
  readonly pass?: number;
  readonly field?: string;
}

/** Something the user must know about their input. Problems are data; only the doors turn them into words on a screen. */
export interface Problem {
  /** Stable code such as `DXF-BAD-NUMBER`; the prefix names the room that found it. */
  readonly code: string;
  readonly severity: Severity;
  /** One or two sentences: what is wrong, where, and what to do. */
  readonly message: string;
  readonly at: Place | null;
}

/** A value with what was noticed while making it. `value` is null exactly when a stop problem prevented it. */
export interface Result<T> {
  readonly value: T | null;
  readonly problems: readonly Problem[];
}

/** What a problem is made from. */
export interface ProblemParts {
  readonly code: string;
  readonly severity: Severity;
  /** What is wrong and where, without a full stop at the end. */
  readonly what: string;
  /** The way out, without a full stop at the end. */
  readonly fix?: string;
  readonly at?: Place;
}

/** Builds a problem whose message is `what. fix.` */
export function problem({ code, severity, what, fix, at }: ProblemParts): Problem {
  return Object.freeze({ code, severity, message: fix ? `${what}. ${fix}.` : `${what}.`, at: at ?? null });
}

/** True when any of the problems stops the work. */
export function hasStop(problems: readonly Problem[]): boolean {
  return problems.some((p) => p.severity === 'stop');
}

/** A place as short text, e.g. `(12.400, 8.100)` or `line 14`. Empty when nothing is known. */
export function placeText(at: Place | null): string {
  if (at === null) return '';
  const parts: string[] = [];
  if (at.feature !== undefined) parts.push(at.feature);
  if (at.pass !== undefined) parts.push(`pass ${at.pass}`);
  if (at.xMm !== undefined && at.yMm !== undefined) parts.push(`(${at.xMm.toFixed(3)}, ${at.yMm.toFixed(3)})`);
  if (at.file !== undefined) parts.push(at.file);
  if (at.line !== undefined) parts.push(`line ${at.line}${at.column === undefined ? '' : `:${at.column}`}`);
  if (at.layer !== undefined) parts.push(`layer ${at.layer}`);
  if (at.handle !== undefined) parts.push(`handle ${at.handle}`);
  if (at.field !== undefined) parts.push(at.field);
  return parts.join(', ');
}

/** A fault of ours, never of the user's input: a broken invariant. Doors report it with exit code 3. */
export class BugError extends Error {
  override readonly name = 'BugError';
}
