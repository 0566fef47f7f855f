import type { Problem, Result } from '@gapwright/base';
import type { ApiError } from '@gapwright/records';
import type { RefusalCode } from '@gapwright/store';

/** An answer that is not what was asked for: status, stable code, one clear sentence. */
export class ApiFault extends Error {
  override readonly name = 'ApiFault';

  constructor(
    readonly statusCode: number,
    readonly code: string,
    message: string,
    readonly problems?: readonly unknown[],
  ) {
    super(message);
  }

  toJson(): ApiError {
    const { code, message, problems } = this;
    return { error: { code, message, ...(problems === undefined ? {} : { problems: [...problems] }) } };
  }
}

/**
 * 409 where the store lacks or already has something, so that a sender knows to send something else first or to choose
 * another id; 422 where what was sent contradicts itself.
 */
const STATUS: Readonly<Record<RefusalCode, number>> = {
  'STORE-ID-TAKEN': 409,
  'STORE-PARENT-UNKNOWN': 409,
  'STORE-FILE-UNKNOWN': 409,
  'STORE-REVISION-UNKNOWN': 409,
  'STORE-BOOK-UNKNOWN': 409,
  'STORE-BURN-UNKNOWN': 409,
  'STORE-PARENT-ELSEWHERE': 422,
  'STORE-FILE-DIFFERS': 422,
  'STORE-HASH-WRONG': 422,
  'STORE-BAD-TEXT': 422,
};

/** What the store kept; throws its refusal as an answer. */
export function kept<T>({ value, problems }: Result<T>): T {
  if (value !== null) return value;
  const { code, message } = firstStop(problems);
  throw new ApiFault(STATUS[code as RefusalCode] ?? 422, code, message);
}

/** The value of a check; throws its problems as one 422 answer whose sentence says what is refused and the first reason. */
export function sound<T>({ value, problems }: Result<T>, refused: string): T {
  if (value !== null) return value;
  const { code, message } = firstStop(problems);
  throw new ApiFault(422, code, `${refused}: ${message}`, problems);
}

function firstStop(problems: readonly Problem[]): Problem {
  return problems.find((p) => p.severity === 'stop') ?? problems[0]!;
}
