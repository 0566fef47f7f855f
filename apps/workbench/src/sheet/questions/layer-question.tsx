import type { Question } from '@gapwright/job';
import { useState } from 'react';
import { Button } from '../../kit/index.js';

interface LayerQuestionProps {
  readonly question: Question;
  readonly isDisabled: boolean;
  readonly onChoose: (layers: readonly string[]) => void;
}

/** Several layers may be the answer: they are ticked, then taken together. */
export function LayerQuestion({ question, isDisabled, onChoose }: LayerQuestionProps) {
  const names = question.choices.map((c) => c.value);
  const [ticked, setTicked] = useState<ReadonlySet<string>>(() => new Set());
  const toggle = (name: string): void => {
    const next = new Set(ticked);
    if (!next.delete(name)) next.add(name);
    setTicked(next);
  };
  return (
    <fieldset className="sheet-layers" aria-label={question.asks}>
      {question.choices.map((c) => (
        <label key={c.value} className="sheet-tick">
          <input type="checkbox" disabled={isDisabled} checked={ticked.has(c.value)} onChange={() => toggle(c.value)} />
          {c.says}
        </label>
      ))}
      <Button isDisabled={isDisabled || ticked.size === 0} onPress={() => onChoose(names.filter((n) => ticked.has(n)))}>
        Cut these
      </Button>
    </fieldset>
  );
}
