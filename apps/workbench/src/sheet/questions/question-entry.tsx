import type { DraftJob, Question } from '@gapwright/job';
import type { ReactNode } from 'react';
import { FileTrigger } from 'react-aria-components';
import { Button, Choice, LengthEntry, NumberEntry } from '../../kit/index.js';
import type { DraftField } from '../requirements/draft-fields.js';
import { MaterialChoice } from '../requirements/requirement-entries.js';
import { LayerQuestion } from './layer-question.js';

interface QuestionEntryProps {
  readonly question: Question;
  readonly draft: DraftJob;
  readonly isFirst: boolean;
  readonly isReadOnly: boolean;
  readonly onAnswer: (field: DraftField, value: unknown) => void;
  readonly onDrawing: (file: File) => void;
}

/** The box that fits a question. */
export function QuestionEntry(props: QuestionEntryProps): ReactNode {
  const { question, isReadOnly, onAnswer, onDrawing } = props;
  const { field } = question;
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
    case 'cutLayers':
      return <LayerQuestion question={question} isDisabled={isReadOnly} onChoose={(v) => onAnswer('cutLayers', v)} />;
    case 'units':
    case 'openPartSide':
      return <ChoiceButtons question={question} isDisabled={isReadOnly} onChoose={(v) => onAnswer(field, v)} />;
    case 'material':
      return <MaterialEntry {...props} />;
    default:
      return (
        <>
          <NumberBox {...props} field={field} />
          {question.choices.length === 0 ? null : (
            <ChoiceButtons question={question} isDisabled={isReadOnly} onChoose={(v) => onAnswer(field, Number(v))} />
          )}
        </>
      );
  }
}

interface NumberBoxProps extends QuestionEntryProps {
  readonly field: 'heightMm' | 'toleranceMm' | 'raUm' | 'quantity';
}

function NumberBox({ field, question, draft, isFirst, isReadOnly, onAnswer }: NumberBoxProps) {
  const common = {
    label: question.asks,
    hideLabel: true,
    isDisabled: isReadOnly,
    autoFocus: isFirst,
    letters: 10,
    value: draft[field] ?? null,
    onCommit: (value: number | null) => onAnswer(field, value),
  };
  switch (field) {
    case 'heightMm':
    case 'toleranceMm':
      return <LengthEntry {...common} min={0.0001} max={1000} />;
    case 'raUm':
      return <NumberEntry {...common} unit="µm" min={0.01} max={50} />;
    case 'quantity':
      return <NumberEntry {...common} unit="pieces" decimals={0} min={1} max={100_000} />;
  }
}

function MaterialEntry({ question, draft, isReadOnly, onAnswer }: QuestionEntryProps) {
  const common = {
    hideLabel: true,
    value: draft.material ?? null,
    isDisabled: isReadOnly,
    onChoose: (v: string) => onAnswer('material', v),
  };
  if (question.choices.length === 0) return <MaterialChoice {...common} />;
  return (
    <Choice
      {...common}
      label={question.asks}
      options={question.choices.map((c) => ({ value: c.value, label: c.says }))}
    />
  );
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
