import type { PlanDocument } from '@gapwright/job';
import { memo } from 'react';
import { Section } from '../layout/section.js';

/** What leaves the planner's desk. */
export const PapersSection = memo(function PapersSection({
  programs,
}: {
  readonly jobId: string;
  readonly programs: PlanDocument['programs'];
}) {
  const names = Object.keys(programs);
  return (
    <Section id="papers" title="Papers">
      {names.length === 0 ? (
        <p className="sheet-soft">Programs stand here once they are written and proved.</p>
      ) : (
        names.map((name) => (
          <details key={name} className="sheet-program">
            <summary>
              {name}, {programs[name]!.split('\n').length} lines
            </summary>
            <pre>{programs[name]}</pre>
          </details>
        ))
      )}
    </Section>
  );
});
