import type { DraftJob } from '@gapwright/job';
import { memo } from 'react';
import { DayEntry } from '../head/day-entry.js';
import { Section } from '../layout/section.js';
import { changeSays, withField } from '../requirements/draft-fields.js';
import { useSheet } from '../sheet-context.js';

/** The day the customer is told. */
export const PromiseSection = memo(function PromiseSection({ draft }: { readonly draft: DraftJob }) {
  const { edit, isReadOnly } = useSheet();
  return (
    <Section id="promise" title="Promise">
      <div className="sheet-fields">
        <DayEntry
          label="Promised for"
          value={draft.promisedDay}
          isDisabled={isReadOnly}
          onCommit={(v) => edit(changeSays('promisedDay', v), (d) => withField(d, 'promisedDay', v))}
        />
        <p className="sheet-soft">
          {draft.wantedDay === undefined ? 'The customer named no day.' : `Wanted by ${draft.wantedDay}.`}
        </p>
      </div>
    </Section>
  );
});
