import { shortNumber } from '@gapwright/base';
import type { JobRun } from '@gapwright/job';
import type { Plan, WireOperation } from '@gapwright/planning';
import { textTable, wrap } from '../text-table.js';
import { durationSpread, money, moneySpread, percent, spread } from './numbers.js';
import { proofText } from './print-prove.js';

/** Most feature rows on a screen. */
const MOST_ROWS = 30;

/** The plan as tables of at most 100 columns. */
export function planText(run: JobRun): string {
  const { plan } = run;
  if (plan === null) return '';
  const out: string[] = [...features(plan), ...wireOptions(plan)];
  for (const op of plan.operations) {
    out.push('', `Operation ${op.number}: ${op.title} on ${op.machineId}, ${op.runs} run${op.runs === 1 ? '' : 's'}`);
    out.push(`  machine alone ${durationSpread(op.machineMin)} each`);
    out.push(`  attended ${durationSpread(op.attendedMin)} each`);
    if (op.process === 'wire') out.push(...wireOperation(op));
    for (const touch of op.touches)
      out.push(wrap(`  touch: ${touch.says} (${spread(touch.min)} min)`, 100, '         '));
  }
  if (plan.totals !== null) {
    const { burnMin, attendedMin, touches } = plan.totals;
    out.push('', `Burning for ${plan.request.quantity}: ${durationSpread(burnMin)}`);
    out.push(`Attended: ${durationSpread(attendedMin)} in ${touches.value} touches`);
  }
  for (const program of run.programs) out.push('', proofText(program.proof, `Program ${program.fileName}`));
  if (run.offer !== null) {
    const { offer } = run;
    const { currency } = offer;
    out.push(
      '',
      `Offer for ${offer.quantity}: ${money(offer.unitPrice, currency)} each, ${money(offer.orderValue, currency)} in all`,
    );
    out.push(
      `  cost per piece ${moneySpread(offer.costs.perPiece, currency)}, loss risk ${percent(offer.lossRisk.value, 1)}`,
    );
  }
  return out.join('\n');
}

function features(plan: Plan): string[] {
  if (plan.features.length === 0) return [];
  const rows = plan.features
    .slice(0, MOST_ROWS)
    .map((f) => [
      f.id,
      f.kind,
      f.role,
      f.lengthMm.toFixed(3),
      f.areaMm2.toFixed(3),
      f.minInsideRadiusMm === null ? '-' : f.minInsideRadiusMm.toFixed(3),
      String(f.sharpInsideCorners.length),
      f.narrowestMm === null ? '-' : f.narrowestMm.toFixed(3),
    ]);
  const head = ['feature', 'kind', 'role', 'length mm', 'area mm2', 'min inside R', 'sharp corners', 'narrowest'];
  const more = plan.features.length > MOST_ROWS ? [`and ${plan.features.length - MOST_ROWS} more`] : [];
  return [textTable(head, rows, [0, 1, 2]), ...more];
}

function wireOptions(plan: Plan): string[] {
  if (plan.wireOptions.length === 0) return [];
  const rows = plan.wireOptions.map((o) => [
    o.wireId,
    o.machineId,
    o.burnMin === null ? '-' : spread(o.burnMin),
    o.comparisonCost === null ? '-' : spread(o.comparisonCost),
    o.fits ? o.marks.join(', ') : (o.problems.find((p) => p.severity === 'stop')?.code ?? 'does not fit'),
  ]);
  return ['', textTable(['wire', 'machine', 'burning min', 'cost to compare', ''], rows, [0, 1, 4])];
}

function wireOperation(op: WireOperation): string[] {
  const rows = op.passes.map((p) => [
    `${p.pass} ${p.levelName}`,
    `D${p.register}`,
    p.offsetMm.value.toFixed(4),
    p.gapMm.value.toFixed(4),
    spread(p.feedMmPerMin),
    spread(p.burnMin),
    spread(p.raUm),
    shortNumber(p.recastUm.value, 2),
  ]);
  const head = ['pass', 'reg', 'offset mm', 'gap mm', 'feed mm/min', 'burn min', 'Ra um', 'recast um'];
  const table = textTable(head, rows, [0, 1]);
  const holes = op.startHoles.filter((h) => !h.fromEdge).length;
  return [
    `  wire ${op.wireId}, stack of ${op.stack}, burn height ${op.burnHeightMm} mm, ${holes} start holes, ${op.threadings} threadings`,
    `  wire used ${spread(op.wireUseM)} m, ${spread(op.wireUseKg)} kg each`,
    `  unattended ${durationSpread(op.unattendedMin)}`,
    ...table.split('\n').map((l) => `  ${l}`),
  ];
}
