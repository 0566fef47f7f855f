import type { DraftJob, Question } from '@gapwright/job';
import { FileTrigger } from 'react-aria-components';
import { Button, Choice, LengthEntry, NumberEntry } from '../../kit/index.js';
import type { DraftField } from '../requirements/draft-fields.js';
import { MaterialChoice } from '../requirements/requirement-entries.js';

interface QuestionEntryProps {
  readonly question: Question;
  readonly draft: DraftJob;
  readonly isFirst: boolean;
  readonly isReadOnly: boolean;
  readonly onAnswer: (field: DraftField, value: unknown) => void;
  readonly onDrawing: (file: File) => void;
}

/** The box that fits a question. */
export function QuestionEntry({ question, draft, isFirst, isReadOnly, onAnswer, onDrawing }: QuestionEntryProps) {
  const { field, asks, choices } = question;
  const common = { label: asks, hideLabel: true, isDisabled: isReadOnly, autoFocus: isFirst, letters: 10 };
  switch (field) {
    case 'drawing':
      return (
        <FileTrigger
          acceptedFileTypes={['.dxf']}
          onSelect={(files) => {
            const file = files?.item(0);
            if (file) onDrawing(file);
          }}
        >
          <Button look="main">Choose a drawing</Button>
        </FileTrigger>
      );
    case 'heightMm':
    case 'toleranceMm':
      return (
        <LengthEntry
          {...common}
          value={draft[field] ?? null}
          min={0.0001}
          max={1000}
          onCommit={(v) => onAnswer(field, v)}
        />
      );
    case 'raUm':
      return (
        <NumberEntry
          {...common}
          unit="µm"
          value={draft.raUm ?? null}
          min={0.01}
          max={50}
          onCommit={(v) => onAnswer(field, v)}
        />
      );
    case 'quantity':
      return (
        <NumberEntry
          {...common}
          unit="pieces"
          decimals={0}
          value={draft.quantity ?? null}
          min={1}
          max={100_000}
          onCommit={(v) => onAnswer(field, v)}
        />
      );
    case 'cutLayers':
      return (
        <ChoiceButtons
          question={question}
          isDisabled={isReadOnly}
          onChoose={(value) => onAnswer('cutLayers', [value])}
        />
      );
    case 'units':
    case 'openPartSide':
      return <ChoiceButtons question={question} isDisabled={isReadOnly} onChoose={(value) => onAnswer(field, value)} />;
    case 'material':
      return choices.length > 0 ? (
        <Choice
          label={asks}
          hideLabel
          value={draft.material ?? null}
          isDisabled={isReadOnly}
          options={choices.map((c) => ({ value: c.value, label: c.says }))}
          onChoose={(v) => onAnswer('material', v)}
        />
      ) : (
        <MaterialChoice
          hideLabel
          value={draft.material ?? null}
          isDisabled={isReadOnly}
          onChoose={(v) => onAnswer('material', v)}
        />
      );
  }
}

/** A few possible answers, all in sight. */
function ChoiceButtons({
  question,
  isDisabled,
  onChoose,
}: {
  readonly question: Question;
  readonly isDisabled: boolean;
  readonly onChoose: (value: string) => void;
}) {
  return (
    <fieldset className="sheet-choice-buttons" aria-label={question.asks}>
      {question.choices.map((c) => (
        <Button key={c.value} isDisabled={isDisabled} onPress={() => onChoose(c.value)}>
          {c.says}
        </Button>
      ))}
    </fieldset>
  );
}
