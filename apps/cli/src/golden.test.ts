import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { PlanDocument } from '@gapwright/job';
import { expect, test } from 'vitest';
import { runCommandLine } from './command-line.js';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
const GOLDEN = join(ROOT, 'fixtures/golden');

/**
 * The demo jobs end to end, as short summaries that a reviewer can read. Refreshed by
 * `UPDATE=1 npx vitest run apps/cli/src/golden.test.ts`; the difference is read in review.
 */
test.each(readdirSync(join(ROOT, 'demo')).filter((name) => !name.includes('.')))('%s', async (name) => {
  const { stdout } = await runCommandLine(['plan', join(ROOT, 'demo', name, 'job.json'), '--json']);
  const text = summary(JSON.parse(stdout) as PlanDocument);
  const path = join(GOLDEN, `${name}.txt`);
  if (process.env.UPDATE === '1') writeFileSync(path, text);
  expect(text).toBe(existsSync(path) ? readFileSync(path, 'utf8') : 'missing');
});

const short = (n: number): string => String(Number(n.toPrecision(5)));
const figure = (f: { value: number; low: number; high: number; unit: string }): string =>
  `${short(f.value)} ${f.unit}${f.low === f.high ? '' : ` (${short(f.low)} to ${short(f.high)})`}`;

/** What a change of the plan would show: sizes, ladder, times, money, proof, problems and the program's fingerprint. */
function summary(plan: PlanDocument): string {
  const lines = [`${plan.features.length} features, units ${plan.units}, book ${plan.bookVersion}`];
  const lengthMm = plan.features.reduce((sum, f) => sum + f.lengthMm, 0);
  lines.push(`contours ${lengthMm.toFixed(4)} mm`);
  for (const op of plan.operations) {
    lines.push(
      `op ${op.number} ${op.process} ${op.machineId}: ${op.title}, ${op.runs} runs, machine ${figure(op.machineMin)}`,
    );
    if (op.process !== 'wire') continue;
    lines.push(
      `  wire ${op.wireId}, stack ${op.stack}, ${op.startHoles.length} start places, ${op.threadings} threadings`,
    );
    for (const p of op.passes) {
      lines.push(
        `  ${p.levelName}: offset ${figure(p.offsetMm)}, feed ${figure(p.feedMmPerMin)}, burn ${figure(p.burnMin)}`,
      );
    }
  }
  if (plan.totals !== null) {
    lines.push(
      `burn ${figure(plan.totals.burnMin)}, attended ${figure(plan.totals.attendedMin)}, touches ${plan.totals.touches.value}`,
    );
  }
  if (plan.offer !== null)
    lines.push(`price ${figure(plan.offer.unitPrice)}, loss risk ${short(plan.offer.lossRisk.value)}`);
  if (plan.proof !== null) {
    const { verdict, maxUndercutMm, maxRestMm } = plan.proof;
    lines.push(`proof ${verdict}, undercut ${maxUndercutMm?.toFixed(5)} mm, rest ${maxRestMm?.toFixed(5)} mm`);
  }
  for (const [file, program] of Object.entries(plan.programs)) {
    const hash = createHash('sha256').update(program).digest('hex').slice(0, 16);
    lines.push(`${file}: ${program.split('\n').length} lines, ${hash}`);
  }
  for (const p of plan.problems) lines.push(`${p.severity} ${p.code}`);
  return `${lines.join('\n')}\n`;
}
