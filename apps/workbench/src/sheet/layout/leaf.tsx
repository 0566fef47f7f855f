import type { DraftJob, PlanDocument, SheetAnswer } from '@gapwright/job';
import type { JobStage } from '@gapwright/records';
import { type ReactNode, useMemo } from 'react';
import { DecisionList } from '../decisions/decision-list.js';
import { Head } from '../head/head.js';
import { operationSectionId } from '../operations/operation-title.js';
import { Operations, type PlannedOperation } from '../operations/operations.js';
import { PapersSection } from '../papers/papers-section.js';
import { PriceSection } from '../price/price-section.js';
import { Problems } from '../problems/problems.js';
import { PromiseSection } from '../promise/promise-section.js';
import { ProofSection } from '../proof/proof-section.js';
import { Questions } from '../questions/questions.js';
import { DrawingSection } from '../reading/drawing-section.js';
import { Requirements } from '../requirements/requirements.js';
import { Route } from '../route/route.js';
import { useSheet } from '../sheet-context.js';
import { type Totals, TotalsProvider } from '../totals-context.js';
import type { ContentsEntry } from './contents.js';
import { Section } from './section.js';

interface LeafProps {
  readonly jobId: string;
  readonly draft: DraftJob;
  readonly stage: JobStage;
  readonly answer: SheetAnswer | null;
  /** The figures belong to an earlier state of the job. */
  readonly isStale: boolean;
  readonly onStage: (stage: JobStage) => void;
  readonly onDrawing: (file: File) => void;
  /** What stands between head and questions: conflict, tried change, banner. */
  readonly children?: ReactNode;
}

/** The sheet itself, from the head to the papers. */
export function Leaf({ jobId, draft, stage, answer, isStale, onStage, onDrawing, children }: LeafProps) {
  const plan = answer?.plan ?? null;
  const operations: readonly PlannedOperation[] = plan?.operations ?? NONE;
  const decisions = answer?.decisions ?? NONE;
  const ofJob = useMemo(() => decisions.filter((d) => d.operation === null && d.id !== 'unitPrice'), [decisions]);
  const onPrice = useMemo(() => decisions.filter((d) => d.id === 'unitPrice'), [decisions]);
  const { isReadOnly } = useSheet();
  const burnMin = plan?.totals?.burnMin.value ?? null;
  const attendedMin = plan?.totals?.attendedMin.value ?? null;
  const totals = useMemo((): Totals => ({ burnMin, attendedMin }), [burnMin, attendedMin]);
  const proofs = answer?.proofs ?? null;
  const programs = plan?.programs ?? NO_PROGRAMS;
  const isProven = proofs !== null && proofs.length > 0 && proofs.every((p) => p.verdict === 'pass');
  return (
    <TotalsProvider value={totals}>
      <div className="sheet-leaf">
        <Head draft={draft} stage={stage} onStage={onStage} standing={answer?.standing ?? ''} />
        {children}
        <Questions questions={answer?.questions ?? NONE} draft={draft} onDrawing={onDrawing} />
        <Problems problems={answer?.problems ?? NONE} />
        <Requirements draft={draft} drawing={answer?.drawing ?? null} />
        <div className="sheet-worked" data-stale={isStale || undefined}>
          <DrawingSection drawing={answer?.drawing ?? null} />
          {ofJob.length === 0 ? null : (
            <Section id="decisions" title="Decisions">
              <DecisionList decisions={ofJob} label="Decisions of the job" />
            </Section>
          )}
          {operations.length === 0 ? null : (
            <>
              <Route operations={operations} totals={plan?.totals ?? null} />
              <Operations operations={operations} decisions={decisions} />
              <ProofSection proofs={proofs} programs={programs} toleranceMm={draft.toleranceMm ?? null} />
              <PriceSection
                column={isReadOnly ? null : `job:${jobId}`}
                offer={plan?.offer ?? null}
                price={answer?.price ?? null}
                counterOffers={answer?.counterOffers ?? null}
                decisions={onPrice}
                isProven={isProven}
              />
            </>
          )}
        </div>
        {operations.length === 0 ? null : (
          <>
            <PromiseSection draft={draft} totals={plan?.totals ?? null} />
            <PapersSection
              jobId={jobId}
              draft={draft}
              operations={operations as PlanDocument['operations']}
              programs={programs}
              counterOffers={answer?.counterOffers ?? null}
              isProven={isProven && !isStale}
            />
          </>
        )}
      </div>
    </TotalsProvider>
  );
}

const NONE: readonly never[] = [];
const NO_PROGRAMS: Readonly<Record<string, string>> = {};

/** The sections a leaf has now, in their order. */
export function contentsOf(answer: SheetAnswer | null, hasWhatIf: boolean): ContentsEntry[] {
  const entries: ContentsEntry[] = [];
  const put = (id: string, title: string, isThere = true): void => {
    if (isThere) entries.push({ id, title });
  };
  const operations = answer?.plan?.operations ?? NONE;
  put('what-if', 'Try a change', hasWhatIf);
  put('questions', 'Questions', (answer?.questions.length ?? 0) > 0);
  put('problems', 'Problems', (answer?.problems.length ?? 0) > 0);
  put('requirements', 'Requirements');
  put('drawing', 'Drawing', answer?.drawing != null);
  put('decisions', 'Decisions', answer?.decisions.some((d) => d.operation === null && d.id !== 'unitPrice') ?? false);
  if (operations.length > 0) {
    put('route', 'Route');
    for (const op of operations) put(operationSectionId(op.number), String(op.number));
    put('proof', 'Proof');
    put('price', 'Price', answer?.plan?.offer != null);
    put('promise', 'Promise');
    put('papers', 'Papers');
  }
  return entries;
}
