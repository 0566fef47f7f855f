import type { DraftJob, PlanDocument } from '@gapwright/job';
import { memo } from 'react';
import { Mark } from '../../kit/index.js';
import { Fig } from '../figure/fig.js';
import { DayEntry } from '../head/day-entry.js';
import { Section } from '../layout/section.js';
import { changeSays, withField } from '../requirements/draft-fields.js';
import { useSheet } from '../sheet-context.js';
import { daysBetween, dayWords } from './day-words.js';

interface PromiseSectionProps {
  readonly draft: DraftJob;
  readonly totals: PlanDocument['totals'];
}

/** The day the customer is told, beside what the job takes. */
export const PromiseSection = memo(function PromiseSection({ draft, totals }: PromiseSectionProps) {
  const { edit, isReadOnly } = useSheet();
  const { wantedDay, promisedDay } = draft;
  const late = wantedDay === undefined || promisedDay === undefined ? null : daysBetween(wantedDay, promisedDay);
  return (
    <Section
      id="promise"
      title="Promise"
      aside={
        promisedDay === undefined ? (
          <Mark kind="open">No day promised</Mark>
        ) : late !== null && late > 0 ? (
          <Mark kind="needs">{`${late} ${late === 1 ? 'day' : 'days'} after the wanted day`}</Mark>
        ) : null
      }
    >
      <div className="sheet-fields">
        <DayEntry
          label="Promised for"
          value={promisedDay}
          isDisabled={isReadOnly}
          onCommit={(v) => edit(changeSays('promisedDay', v), (d) => withField(d, 'promisedDay', v))}
        />
        <p className="sheet-soft">
          {wantedDay === undefined ? 'The customer named no day.' : `Wanted by ${dayWords(wantedDay)}.`}
        </p>
      </div>
      {totals === null ? null : (
        <p className="sheet-line-fig">
          The machines are taken <Fig figure={totals.machineMin} label="Machine alone, all pieces" />, people are needed{' '}
          <Fig figure={totals.attendedMin} label="Attended, all pieces" /> in{' '}
          <Fig figure={totals.touches} label="Touches, all pieces" reading="count" /> touches.
        </p>
      )}
      <p className="sheet-soft">
        The day is the planner’s own: no schedule stands behind it yet. What is on the floor, who is on shift and what
        may run unattended are not looked at.
      </p>
    </Section>
  );
});
