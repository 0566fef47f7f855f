import type { Problem } from '@gapwright/base';
import type { PlanDocument, SheetProof } from '@gapwright/job';
import { memo } from 'react';
import { Mark } from '../../kit/index.js';
import { minutesText, useDisplay } from '../../units/index.js';
import { Section } from '../layout/section.js';
import { ProblemList } from '../problems/problems.js';
import { FeatureTable } from './feature-table.js';
import { ProgramText } from './program-text.js';

interface ProofSectionProps {
  readonly proofs: readonly SheetProof[] | null;
  readonly programs: PlanDocument['programs'];
  readonly toleranceMm: number | null;
}

/** Whether the programs, run as they are written, give the part of the drawing. */
export const ProofSection = memo(function ProofSection({ proofs, programs, toleranceMm }: ProofSectionProps) {
  const isProven = proofs !== null && proofs.length > 0 && proofs.every((p) => p.verdict === 'pass');
  return (
    <Section
      id="proof"
      title="Proof"
      aside={
        proofs === null || proofs.length === 0 ? (
          <Mark kind="open">Not proved yet</Mark>
        ) : isProven ? (
          <Mark kind="proven">Proven</Mark>
        ) : (
          <Mark kind="needs">Fails: do not run it</Mark>
        )
      }
    >
      <p className="sheet-soft">
        Each program is read back as text, run as a controller runs it, and the stock is eroded with it; what is left is
        compared with the drawing. Play it in the drawing.
      </p>
      {(proofs ?? []).map((proof) => (
        <OneProof
          key={proof.fileName}
          proof={proof}
          text={programs[proof.fileName] ?? null}
          toleranceMm={toleranceMm}
        />
      ))}
    </Section>
  );
});

interface OneProofProps {
  readonly proof: SheetProof;
  readonly text: string | null;
  readonly toleranceMm: number | null;
}

function OneProof({ proof, text, toleranceMm }: OneProofProps) {
  const { length } = useDisplay();
  const freed = proof.slugs;
  const unplanned = freed.filter((s) => !s.planned);
  return (
    <div className="sheet-proof">
      <h3>
        {proof.fileName}, operation {proof.operation}{' '}
        <Mark kind={proof.verdict === 'pass' ? 'proven' : 'needs'}>
          {proof.verdict === 'pass' ? 'passes' : 'fails'}
        </Mark>
      </h3>
      {proof.maxRestMm === null || proof.maxUndercutMm === null ? (
        <p>Nothing could be proved.</p>
      ) : (
        <p>
          At most {length(proof.maxRestMm, 4)} left on the part and {length(proof.maxUndercutMm, 4)} cut into it
          {toleranceMm === null ? '' : `, where ±${length(toleranceMm, 4)} is allowed`}. {minutesText(proof.burnMin)} of
          burning by the feeds in the text.
        </p>
      )}
      {proof.features.length === 0 ? null : <FeatureTable proof={proof} toleranceMm={toleranceMm} />}
      {freed.length === 0 ? null : (
        <p>
          {unplanned.length === 0
            ? `${freed.length === 1 ? 'One piece comes free where' : `${freed.length} pieces come free, each where`} the set-up sheet says: ${placesOf(freed)}.`
            : `Comes free with nobody told: ${unplanned.map((s) => `${s.feature} at line ${s.freedAtLine}`).join(', ')}.`}
        </p>
      )}
      {proof.findings.length === 0 ? null : <ProblemList problems={proof.findings as readonly Problem[]} />}
      {text === null ? null : (
        <ProgramText fileName={proof.fileName} text={text} findings={proof.findings as readonly Problem[]} />
      )}
    </div>
  );
}

/** More than these are told by the first and the last. */
const MOST_TOLD = 6;

function placesOf(freed: SheetProof['slugs']): string {
  const told = freed.map((s) => `${s.feature} at line ${s.freedAtLine}`);
  return told.length <= MOST_TOLD ? told.join(', ') : `from ${told[0]} to ${told.at(-1)}`;
}
