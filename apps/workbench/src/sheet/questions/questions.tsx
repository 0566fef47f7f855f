import type { DraftJob, Question } from '@gapwright/job';
import { type KeyboardEvent, memo, useEffect, useRef } from 'react';
import { Button, Mark } from '../../kit/index.js';
import { Section } from '../layout/section.js';
import { changeSays, type DraftField, withField } from '../requirements/draft-fields.js';
import { useSheet } from '../sheet-context.js';
import { QuestionEntry } from './question-entry.js';

interface QuestionsProps {
  readonly questions: readonly Question[];
  readonly draft: DraftJob;
  readonly onDrawing: (file: File) => void;
}

/** What must be answered before the job can be planned. Enter takes an answer and goes to the next question. */
export const Questions = memo(function Questions({ questions, draft, onDrawing }: QuestionsProps) {
  const { edit, isReadOnly } = useSheet();
  const list = useRef<HTMLOListElement>(null);
  const isOpen = questions.length > 0;
  // Whoever opens a job with open questions starts at the first one, unless they are somewhere on the page already.
  useEffect(() => {
    const here = document.activeElement;
    if (!isOpen || !(here === null || here === document.body || here.tagName === 'H1')) return;
    list.current?.querySelector<HTMLElement>('input, button')?.focus({ preventScroll: true });
  }, [isOpen]);
  if (!isOpen) return null;

  const answer = (field: DraftField, value: unknown): void =>
    edit(changeSays(field, value), (d) => withField(d, field, value));

  const onKeyDown = (event: KeyboardEvent<HTMLOListElement>): void => {
    if (event.key !== 'Enter' || !(event.target instanceof HTMLInputElement)) return;
    const question = event.target.closest('li');
    const box = event.target;
    // The box takes its value on the same key press; whether it was good is known after that.
    requestAnimationFrame(() => {
      if (box.getAttribute('aria-invalid') === 'true' || box.value.trim() === '') return;
      const next = question?.nextElementSibling ?? firstOpen(list.current, question);
      next?.querySelector<HTMLElement>('input, button:not(.sheet-suggestion)')?.focus();
    });
  };

  return (
    <Section
      id="questions"
      title="Questions"
      aside={
        <Mark kind="needs">{questions.length === 1 ? 'One answer needed' : `${questions.length} answers needed`}</Mark>
      }
    >
      <ol className="sheet-questions" ref={list} onKeyDown={onKeyDown}>
        {questions.map((q, index) => (
          <li key={q.field} className="sheet-question">
            <div className="sheet-question-asks">
              <h3>{q.asks}</h3>
              <p className="sheet-soft">{q.because}</p>
            </div>
            <div className="sheet-question-answer">
              <QuestionEntry
                question={q}
                draft={draft}
                isFirst={index === 0}
                isReadOnly={isReadOnly}
                onAnswer={answer}
                onDrawing={onDrawing}
              />
              {q.suggestion === null || q.field === 'drawing' || isReadOnly ? null : (
                <Suggestion question={q} onTake={(value) => answer(q.field as DraftField, value)} />
              )}
            </div>
          </li>
        ))}
      </ol>
    </Section>
  );
});

function firstOpen(list: HTMLOListElement | null, but: Element | null | undefined): Element | null {
  return [...(list?.children ?? [])].find((li) => li !== but) ?? null;
}

/** A likely answer with where it comes from; it is never taken by itself. */
function Suggestion({ question, onTake }: { question: Question; onTake: (value: unknown) => void }) {
  const { suggestion } = question;
  if (suggestion === null) return null;
  return (
    <div className="sheet-suggestion-line">
      <span className="sheet-soft">{suggestion.says}</span>
      <Button onPress={() => onTake(suggestion.value)}>Take it</Button>
    </div>
  );
}
