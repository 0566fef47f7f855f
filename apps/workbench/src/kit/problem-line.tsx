import type { Problem } from '@gapwright/base';
import { Mark } from './mark.js';

const WORDS = {
  stop: ['needs', 'Stops the plan'],
  warn: ['needs', 'Look at this'],
  info: ['info', 'Worth knowing'],
} as const;

/** One problem: how much it matters, the sentence, and the way to its place. */
export function ProblemLine({
  problem,
  onShow,
}: {
  readonly problem: Problem;
  readonly onShow?: ((problem: Problem) => void) | undefined;
}) {
  const [kind, word] = WORDS[problem.severity];
  const hasPlace = problem.at?.xMm !== undefined || problem.at?.feature !== undefined;
  return (
    <li className={`kit-problem kit-problem-${problem.severity}`}>
      <Mark kind={kind}>{word}</Mark>
      <p>
        {problem.message}{' '}
        {hasPlace && onShow ? (
          <button type="button" className="kit-link" onClick={() => onShow(problem)}>
            Show the place
          </button>
        ) : null}
      </p>
    </li>
  );
}
