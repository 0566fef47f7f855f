import { type Problem, problem, type Result } from '@gapwright/base';

/** One term: a factor and how often each variable stands in it. */
interface Term {
  readonly factor: number;
  readonly powers: Readonly<Record<string, number>>;
}

/** A published response-surface equation. */
export interface Polynomial {
  readonly text: string;
  readonly variables: readonly string[];
  readonly terms: readonly Term[];
}

/**
 * Reads an equation such as `10.88-0.0383*TON+9.7e-4*TOFF^2` or `2.19+0.26x1+0.11x1x3-7.6E^2`. The power of ten is written
 * with a small `e`; a capital `E` may be a variable. Stops `TECH-EQUATION-SYNTAX` with the place of the first thing not understood.
 */
export function parsePolynomial(text: string, variables: readonly string[]): Result<Polynomial> {
  const stop = (at: number, what: string): Result<Polynomial> => {
    const fix = 'Write a sum of terms: a number, then variables, with ^ for powers';
    const found: Problem = problem({
      code: 'TECH-EQUATION-SYNTAX',
      severity: 'stop',
      what: `${what} at character ${at + 1} of "${text}"`,
      fix,
    });
    return { value: null, problems: [found] };
  };
  // Longer names first, so that x12 is not read as x1 and 2.
  const names = [...variables].sort((a, b) => b.length - a.length);
  const plain = text.replaceAll('−', '-');
  const terms: Term[] = [];
  let at = 0;
  const skip = (): void => {
    while (plain[at] === ' ') at += 1;
  };
  const match = (pattern: RegExp): string | null => {
    pattern.lastIndex = at;
    const found = pattern.exec(plain);
    if (found === null) return null;
    at += found[0].length;
    return found[0];
  };
  skip();
  if (at === plain.length) return stop(0, 'Nothing is written');
  while (at < plain.length) {
    const sign = match(/[+-]/y);
    if (sign === null && terms.length > 0) return stop(at, `A sign is missing before "${plain[at]}"`);
    skip();
    const number = match(/\d+(?:\.\d+)?(?:e[+-]?\d{1,3})?/y);
    let factor = number === null ? 1 : Number(number);
    if (sign === '-') factor = -factor;
    const powers: Record<string, number> = {};
    let anyVariable = false;
    for (;;) {
      skip();
      const star = match(/\*/y);
      skip();
      const name = names.find((candidate) => plain.startsWith(candidate, at));
      if (name === undefined) {
        if (star !== null) return stop(at, 'A variable is missing after "*"');
        break;
      }
      at += name.length;
      anyVariable = true;
      const power = match(/\^\d/y);
      powers[name] = (powers[name] ?? 0) + (power === null ? 1 : Number(power[1]));
    }
    if (number === null && !anyVariable) return stop(at, `"${plain[at] ?? 'the end'}" is not understood`);
    terms.push({ factor, powers });
    skip();
  }
  return { value: { text, variables, terms }, problems: [] };
}

/** Value of the equation; `values` in the order of `variables`. */
export function evaluatePolynomial({ terms, variables }: Polynomial, values: readonly number[]): number {
  let sum = 0;
  for (const { factor, powers } of terms) {
    let product = factor;
    for (const name in powers) product *= values[variables.indexOf(name)]! ** powers[name]!;
    sum += product;
  }
  return sum;
}

/** The constant term. */
export function constantOf({ terms }: Polynomial): number {
  return terms.filter((t) => Object.keys(t.powers).length === 0).reduce((sum, t) => sum + t.factor, 0);
}
