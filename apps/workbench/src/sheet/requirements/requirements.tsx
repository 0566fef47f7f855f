import type { DraftJob, SheetDrawing } from '@gapwright/job';
import { memo } from 'react';
import { Section } from '../layout/section.js';
import { fieldId } from '../problems/way-out.js';
import { useSheet } from '../sheet-context.js';
import { changeSays, type DraftField, withField } from './draft-fields.js';
import { REQUIREMENTS, RequirementEntry } from './requirement-entries.js';

/** What the customer asks for; every field is edited where it stands. */
export const Requirements = memo(function Requirements({
  draft,
  drawing,
}: {
  readonly draft: DraftJob;
  readonly drawing: SheetDrawing | null;
}) {
  const { edit, isReadOnly } = useSheet();
  const set = (field: DraftField, value: unknown): void =>
    edit(changeSays(field, value), (d) => withField(d, field, value));
  return (
    <Section id="requirements" title="Requirements">
      <div className="sheet-fields">
        {REQUIREMENTS.map((field) => (
          <div key={field} id={fieldId(field)} className="sheet-field">
            <RequirementEntry field={field} draft={draft} drawing={drawing} isReadOnly={isReadOnly} onSet={set} />
          </div>
        ))}
      </div>
    </Section>
  );
});
