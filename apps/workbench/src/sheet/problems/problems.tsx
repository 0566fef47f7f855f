import type { Problem } from '@gapwright/base';
import { memo } from 'react';
import { Mark, ProblemLine } from '../../kit/index.js';
import { Section } from '../layout/section.js';
import { useSheet } from '../sheet-context.js';
import { countsSay, sortedProblems } from './problem-order.js';
import { placeOfProblem, wayOut } from './way-out.js';

/** Everything found wrong or worth knowing, the gravest first, each with its place and its way out. */
export const Problems = memo(function Problems({ problems }: { readonly problems: readonly Problem[] }) {
  if (problems.length === 0) return null;
  const sorted = sortedProblems(problems);
  const isStopped = sorted[0]!.severity === 'stop';
  const counts = countsSay(problems);
  return (
    <Section id="problems" title="Problems" aside={<Mark kind={isStopped ? 'needs' : 'info'}>{counts}</Mark>}>
      <ProblemList problems={sorted} />
    </Section>
  );
});

/** Problem sentences with what can be done about each. */
export function ProblemList({ problems }: { readonly problems: readonly Problem[] }) {
  const { show } = useSheet();
  return (
    <ul className="sheet-problems">
      {problems.map((p) => (
        <ProblemWithWayOut key={`${p.code} ${p.message}`} problem={p} onShow={() => show(placeOfProblem(p))} />
      ))}
    </ul>
  );
}

function ProblemWithWayOut({ problem, onShow }: { readonly problem: Problem; readonly onShow: () => void }) {
  const { isReadOnly } = useSheet();
  const way = isReadOnly ? null : wayOut(problem);
  return (
    <>
      <ProblemLine problem={problem} onShow={onShow} />
      {way === null ? null : (
        <li className="sheet-way-out no-print">
          <a className="kit-link" href={`#${way.elementId}`} onClick={(e) => goTo(e, way.elementId)}>
            {way.says}
          </a>
        </li>
      )}
    </>
  );
}

function goTo(event: { preventDefault(): void }, elementId: string): void {
  event.preventDefault();
  const place = document.getElementById(elementId);
  place?.scrollIntoView({ block: 'center' });
  const control = place?.matches('input, button')
    ? place
    : place?.querySelector<HTMLElement>('input, button, textarea');
  (control as HTMLElement | null | undefined)?.focus({ preventScroll: true });
}
