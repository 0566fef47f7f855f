import type { ProofResult } from '@gapwright/proof';
import { textTable } from '../text-table.js';
import { problemLines } from './problems.js';

/** Most feature rows on a screen; the worst come first. */
const MOST_ROWS = 12;

/** Uncut material counts as 1 mm in the proof, whatever its real thickness. */
const um = (mm: number): string => (mm >= 1 ? 'over 1000' : (mm * 1000).toFixed(2));
const place = (p: { x: number; y: number } | null): string =>
  p === null ? '-' : `(${p.x.toFixed(2)}, ${p.y.toFixed(2)})`;

/** Verdict, worst places and findings of one proof. */
export function proofText(proof: ProofResult, title: string): string {
  const out = [
    `${title}: proof ${proof.verdict.toUpperCase()}; largest undercut ${um(proof.maxUndercutMm)} um, largest rest ${um(proof.maxRestMm)} um`,
  ];
  const worst = [...proof.features]
    .sort((a, b) => Math.max(b.undercutMm, b.restMm) - Math.max(a.undercutMm, a.restMm))
    .slice(0, MOST_ROWS);
  const rows = worst.map((f) => [
    f.id,
    um(f.undercutMm),
    place(f.undercutAt),
    um(f.restMm),
    place(f.restAt),
    f.passes
      .filter((p) => p.stockMinMm !== null && p.stockMaxMm !== null)
      .map((p) => (p.stockMaxMm! * 1000).toFixed(1))
      .join('  '),
  ]);
  const head = ['feature', 'undercut um', 'at', 'rest um', 'at', 'skims took um'];
  out.push(
    ...textTable(head, rows, [0, 2, 4, 5])
      .split('\n')
      .map((l) => `  ${l}`),
  );
  if (proof.features.length > MOST_ROWS) out.push(`  and ${proof.features.length - MOST_ROWS} more, none worse`);
  const findings = problemLines(proof.findings);
  if (findings !== '') out.push(findings);
  return out.join('\n');
}
