import type { Decision, DraftJob, SheetAnswer, SheetDrawing } from '@gapwright/job';
import { memo, useDeferredValue, useState } from 'react';
import type { AnswerState } from '../../engine/index.js';
import { Button, Mark } from '../../kit/index.js';
import { backToComputed, decide } from '../decisions/apply-decision.js';
import { DecisionInput } from '../decisions/decision-input.js';
import { FoldedRows } from '../layout/folded-rows.js';
import { Section } from '../layout/section.js';
import { ProblemList } from '../problems/problems.js';
import { changesSay, fieldLabel, fieldWords, withChange, withField } from '../requirements/draft-fields.js';
import { REQUIREMENTS, type Requirement, RequirementEntry } from '../requirements/requirement-entries.js';
import { useSheet } from '../sheet-context.js';
import { differenceWords, resultWords } from './difference-words.js';
import { type ResultRow, resultsOf } from './results.js';

interface WhatIfProps {
  readonly draft: DraftJob;
  readonly answer: SheetAnswer | null;
  readonly tried: DraftJob;
  readonly state: AnswerState;
  readonly onKeep: () => void;
  readonly onPutAway: () => void;
}

/** The job with a change tried in a second column; both stay live until one is kept. */
export const WhatIf = memo(function WhatIf({ draft, answer, tried, state, onKeep, onPutAway }: WhatIfProps) {
  const { tryOut, names } = useSheet();
  const hasChange = JSON.stringify(draft) !== JSON.stringify(tried);
  const triedAnswer = state.answer;
  const now = resultsOf(answer);
  const then = resultsOf(triedAnswer);
  // The figures come first; the boxes of many decisions follow when there is time.
  const decisions = useDeferredValue(triedAnswer?.decisions ?? NONE);
  const layers = (triedAnswer ?? answer)?.drawing?.layers ?? [];
  const hasLayerChoice = layers.filter((l) => l.contours > 0).length > 1;
  const newProblems = (triedAnswer?.problems ?? []).filter(
    (p) => p.severity !== 'info' && !(answer?.problems ?? []).some((q) => q.code === p.code && q.message === p.message),
  );
  return (
    <Section
      id="what-if"
      title="Try a change"
      aside={
        <div className="sheet-buttons">
          <Button look="main" isDisabled={!hasChange} onPress={onKeep}>
            Keep this
          </Button>
          <Button onPress={onPutAway}>Put it away</Button>
        </div>
      }
    >
      <KeyLine now={now} then={then} currency={names.currency} />
      <p className="sheet-soft" role="status">
        {state.fault ??
          (hasChange
            ? changesSay(draft, tried)
            : 'Change anything in the right column; the job stays as it is until you keep it.')}
        {state.isStale ? ' The figures on the right are from before your last change.' : ''}
      </p>
      <CounterOffers answer={answer} onTry={(change) => tryOut((d) => withChange(d, change))} />
      <div className="sheet-table-frame">
        <table className="sheet-table sheet-what-if">
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">As it is</th>
              <th scope="col">Tried</th>
              <th scope="col">Difference</th>
            </tr>
          </thead>
          <tbody data-stale={state.isStale || undefined}>
            {now.map((row, i) => {
              const other = then[i]!;
              return (
                <tr key={row.id}>
                  <th scope="row">{row.label}</th>
                  <td>{resultWords(row, names.currency)}</td>
                  <td>{resultWords(other, names.currency)}</td>
                  <td>{differenceWords(row, other, names.currency)}</td>
                </tr>
              );
            })}
          </tbody>
          <tbody>
            <tr>
              <th scope="rowgroup" colSpan={4} className="sheet-group-head">
                Requirements
              </th>
            </tr>
            {REQUIREMENTS.filter((f) => f !== 'cutLayers' || hasLayerChoice).map((field) => (
              <TriedRequirement
                key={field}
                field={field}
                draft={draft}
                tried={tried}
                drawing={triedAnswer?.drawing ?? answer?.drawing ?? null}
              />
            ))}
          </tbody>
          <TriedDecisions asItIs={answer?.decisions ?? NONE} tried={decisions} />
        </table>
      </div>
      {newProblems.length === 0 ? null : (
        <>
          <h3>Problems the change would bring</h3>
          <ProblemList problems={newProblems} />
        </>
      )}
    </Section>
  );
});

interface TriedRequirementProps {
  readonly field: Requirement;
  readonly draft: DraftJob;
  readonly tried: DraftJob;
  readonly drawing: SheetDrawing | null;
}

const TriedRequirement = memo(
  function TriedRequirement({ field, draft, tried, drawing }: TriedRequirementProps) {
    const { tryOut } = useSheet();
    return (
      <tr>
        <th scope="row">{fieldLabel(field)}</th>
        <td>{fieldWords(field, draft[field])}</td>
        <td>
          <RequirementEntry
            field={field}
            draft={tried}
            drawing={drawing}
            isReadOnly={false}
            hideLabel
            onSet={(f, value) => tryOut((d) => withField(d, f, value))}
          />
        </td>
        <td>{sameValue(draft[field], tried[field]) ? '' : <Mark kind="open">changed</Mark>}</td>
      </tr>
    );
  },
  // Only the layers to choose from come from the drawing.
  (a, b) =>
    a.field === b.field &&
    sameValue(a.draft[a.field], b.draft[b.field]) &&
    sameValue(a.tried[a.field], b.tried[b.field]) &&
    (a.field !== 'cutLayers' || a.drawing === b.drawing),
);

function sameValue(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

/** What matters most, always in sight while the fields below are changed. */
function KeyLine({
  now,
  then,
  currency,
}: {
  readonly now: readonly ResultRow[];
  readonly then: readonly ResultRow[];
  readonly currency: string;
}) {
  return (
    <dl className="sheet-key-line">
      {KEY_RESULTS.map((id) => {
        const row = now.find((r) => r.id === id)!;
        const other = then.find((r) => r.id === id)!;
        return (
          <div key={id}>
            <dt>{row.label}</dt>
            <dd>
              {resultWords(other, currency)} <span className="sheet-soft">{differenceWords(row, other, currency)}</span>
            </dd>
          </div>
        );
      })}
    </dl>
  );
}

const KEY_RESULTS = ['price', 'risk', 'burn', 'stops'] as const;

const NONE: readonly Decision[] = [];

interface TriedDecisionsProps {
  readonly asItIs: readonly Decision[];
  readonly tried: readonly Decision[];
}

/** Decisions of job and operations, and those of features that are overruled; the rest of the features on request. */
const TriedDecisions = memo(function TriedDecisions({ asItIs, tried }: TriedDecisionsProps) {
  const [isWhole, setWhole] = useState(false);
  if (tried.length === 0) return null;
  const present = new Map(asItIs.map((d) => [keyOf(d), d.chosen]));
  const first = tried.filter((d) => !isOfFeature(d) || d.isOverruled);
  const rest = tried.filter((d) => isOfFeature(d) && !d.isOverruled);
  return (
    <>
      <tbody>
        <tr>
          <th scope="rowgroup" colSpan={4} className="sheet-group-head">
            Decisions
          </th>
        </tr>
        {first.map((d) => (
          <TriedDecision key={keyOf(d)} decision={d} asItIs={present.get(keyOf(d)) ?? '–'} />
        ))}
        {rest.length === 0 ? null : (
          <tr>
            <td colSpan={4}>
              <Button look="plain" aria-expanded={isWhole} onPress={() => setWhole(!isWhole)}>
                {isWhole ? 'Fold the decisions of single features' : `Decisions of single features (${rest.length})`}
              </Button>
            </td>
          </tr>
        )}
      </tbody>
      {isWhole ? (
        <FoldedRows
          rows={rest}
          columns={4}
          row={(d) => <TriedDecision key={keyOf(d)} decision={d} asItIs={present.get(keyOf(d)) ?? '–'} />}
        />
      ) : null}
    </>
  );
});

const keyOf = (d: Decision): string => `${d.operation ?? ''} ${d.id}`;
/** The order is one decision over all features, and as long as they are many. */
const isOfFeature = (d: Decision): boolean => d.feature !== null || d.input.kind === 'order';

interface TriedDecisionProps {
  readonly decision: Decision;
  readonly asItIs: string;
}

const TriedDecision = memo(
  function TriedDecision({ decision: d, asItIs }: TriedDecisionProps) {
    const { tryOut } = useSheet();
    return (
      <tr>
        <th scope="row">
          {d.label}
          {d.feature === null ? '' : ` of ${d.feature}`}
        </th>
        <td>{asItIs}</td>
        <td>
          <DecisionInput
            decision={d}
            hideLabel
            isReadOnly={false}
            onDecide={(value) => tryOut((draft) => decide(draft, d, value))}
          />
        </td>
        <td>
          {d.isOverruled ? (
            <Button look="plain" onPress={() => tryOut((draft) => backToComputed(draft, d))}>
              Back to computed
            </Button>
          ) : null}
        </td>
      </tr>
    );
  },
  // Every answer makes its decisions anew; most say what they said before.
  (a, b) => a.asItIs === b.asItIs && JSON.stringify(a.decision) === JSON.stringify(b.decision),
);

function CounterOffers({
  answer,
  onTry,
}: {
  readonly answer: SheetAnswer | null;
  readonly onTry: (change: Partial<DraftJob>) => void;
}) {
  const offers = answer?.counterOffers ?? [];
  if (offers.length === 0) return null;
  return (
    <ul className="sheet-lines" aria-label="Changes worth asking for">
      {offers.map((o) => (
        <li key={o.id}>
          {o.says}: {Math.round(o.savingShare * 100)} % less.{' '}
          <Button look="plain" onPress={() => onTry(o.change)}>
            Try it
          </Button>
        </li>
      ))}
    </ul>
  );
}
