import { type Place, type Problem, problem } from '@gapwright/base';

/** Carries the one stop problem of an unreadable file up to `readDxf`, which hands it back as data. Never leaves the room. */
export class Refusal extends Error {
  override readonly name = 'Refusal';
  readonly problem: Problem;

  constructor(code: string, what: string, fix: string, at?: Place) {
    const found = problem({ code, severity: 'stop', what, fix, ...(at === undefined ? {} : { at }) });
    super(found.message);
    this.problem = found;
  }
}
