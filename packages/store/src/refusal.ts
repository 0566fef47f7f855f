import { type Problem, problem } from '@gapwright/base';

/** Why the store does not keep something. Codes are stable; see the README for what a sender does about each. */
export type RefusalCode =
  | 'STORE-ID-TAKEN'
  | 'STORE-PARENT-UNKNOWN'
  | 'STORE-PARENT-ELSEWHERE'
  | 'STORE-FILE-UNKNOWN'
  | 'STORE-FILE-DIFFERS'
  | 'STORE-REVISION-UNKNOWN'
  | 'STORE-BOOK-UNKNOWN'
  | 'STORE-BURN-UNKNOWN'
  | 'STORE-HASH-WRONG'
  | 'STORE-BAD-TEXT';

/** Ends a transaction without keeping anything; the store's door turns it into a problem. */
export class Refusal extends Error {
  override readonly name = 'Refusal';
  readonly problem: Problem;

  constructor(code: RefusalCode, what: string, fix: string) {
    super(what);
    this.problem = problem({ code, severity: 'stop', what, fix });
  }
}
