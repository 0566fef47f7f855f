import type { Problem } from '@gapwright/base';
import type { SheetProof } from '@gapwright/job';
import { memo } from 'react';
import { Mark } from '../../kit/index.js';
import { useDisplay } from '../../units/index.js';
import { Section } from '../layout/section.js';
import { ProblemList } from '../problems/problems.js';

/** Whether the programs, run as they are written, give the part of the drawing. */
export const ProofSection = memo(function ProofSection({ proofs }: { readonly proofs: readonly SheetProof[] | null }) {
  const { length } = useDisplay();
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
          <Mark kind="needs">Fails</Mark>
        )
      }
    >
      {(proofs ?? []).map((p) => (
        <div key={p.fileName}>
          <p>
            <strong>{p.fileName}</strong>, operation {p.operation}:{' '}
            {p.maxRestMm === null || p.maxUndercutMm === null
              ? 'nothing could be proved.'
              : `at most ${length(p.maxRestMm, 4)} left on and ${length(p.maxUndercutMm, 4)} cut into the part.`}
          </p>
          {p.findings.length === 0 ? null : <ProblemList problems={p.findings as readonly Problem[]} />}
        </div>
      ))}
    </Section>
  );
});
