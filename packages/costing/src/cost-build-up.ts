import { apply, BugError, BY_DEFINITION, type Figure, given, STATED_FOR_JOB, sumOf } from '@gapwright/base';
import { distinctShapes, type Operation, type Plan, type WireOperation } from '@gapwright/planning';
import { findMaterial, type ShopBook } from '@gapwright/process';
import {
  costOfMass,
  costOfTime,
  costPerPiece,
  expectedScrap,
  machineOccupied,
  plateMass,
  programmingTime,
} from './laws.js';

/** One line of the cost build-up, for the whole quantity. */
export interface CostLine {
  readonly id: string;
  readonly label: string;
  readonly group: 'machine' | 'labour' | 'material' | 'use-up' | 'once' | 'risk';
  readonly total: Figure;
}

/** What the whole quantity costs the shop, line by line. */
export interface CostBuildUp {
  readonly quantity: number;
  readonly lines: readonly CostLine[];
  readonly total: Figure;
  readonly perPiece: Figure;
}

const count = (n: number, says: string): Figure => given(n, '1', says, BY_DEFINITION);

/**
 * Costs a finished plan. Amounts are in the shop book's currency.
 * Throws a BugError for a plan without operations: a stopped plan has no price.
 */
export function costPlan(plan: Plan, book: ShopBook): CostBuildUp {
  if (plan.operations.length === 0) throw new BugError('a plan without operations cannot be priced');
  const { rates } = book;
  const quantity = plan.request.quantity;
  const pieces = given(quantity, '1', 'Quantity asked for', STATED_FOR_JOB);
  const lines: CostLine[] = [];

  for (const op of plan.operations) {
    const runs = count(op.runs, `Runs of operation ${op.number}`);
    const machineRate = machineRateOf(op, book);
    if (machineRate !== null) {
      const minutes = apply(machineOccupied, { machine: op.machineMin, attended: op.attendedMin });
      const total = apply(costOfTime, { minutes, runs, rate: machineRate });
      lines.push({
        id: `machine-${op.number}`,
        label: `${opName(op)}: machine ${op.machineId}`,
        group: 'machine',
        total,
      });
      const consumables = apply(costOfTime, { minutes: op.machineMin, runs, rate: rates.consumablesPerH });
      lines.push({
        id: `consumables-${op.number}`,
        label: `${opName(op)}: filters, resin, power, water`,
        group: 'use-up',
        total: consumables,
      });
    }
    const labour = apply(costOfTime, { minutes: op.attendedMin, runs, rate: rates.labourPerH });
    lines.push({ id: `labour-${op.number}`, label: `${opName(op)}: attended`, group: 'labour', total: labour });
    if (op.process === 'wire') lines.push(...wireLines(op, plan, book, runs));
  }

  const features = count(distinctShapes(plan.features), 'Different shapes of the drawing');
  const programming = apply(programmingTime, {
    base: rates.programmingBaseMin,
    perFeature: rates.programmingPerFeatureMin,
    features,
  });
  const once = apply(costOfTime, { minutes: programming, runs: count(1, 'Once for the job'), rate: rates.labourPerH });
  lines.push({ id: 'programming', label: 'Planning and programming', group: 'once', total: once });
  const making = sumOf(Object.fromEntries(lines.filter((l) => l.group !== 'once').map((l) => [l.label, l.total])));
  const scrap = apply(expectedScrap, { cost: making, scrap: rates.scrapRatio });
  lines.push({ id: 'scrap', label: 'Expected scrap', group: 'risk', total: scrap });

  const total = sumOf(Object.fromEntries(lines.map((l) => [l.label, l.total])));
  return { quantity, lines, total, perPiece: apply(costPerPiece, { total, pieces }) };
}

const PROCESS_WORDS: Readonly<Record<Operation['process'], string>> = { wire: 'wire', drill: 'drill', other: 'bench' };

/** `20 wire`: short enough for a table, and unlike the title the same from job to job. */
function opName(op: Operation): string {
  return `${op.number} ${PROCESS_WORDS[op.process]}`;
}

/** Rate of the machine an operation runs on; null for bench work, which costs labour only. */
function machineRateOf(op: Operation, book: ShopBook): Figure | null {
  if (op.process === 'other') return null;
  const machines = op.process === 'wire' ? book.wireMachines : book.drillMachines;
  const machine = machines.find((m) => m.id === op.machineId);
  if (machine === undefined) throw new BugError(`plan names machine ${op.machineId}, which the shop book lacks`);
  return machine.ratePerH;
}

function wireLines(op: WireOperation, plan: Plan, book: ShopBook, runs: Figure): CostLine[] {
  const wire = book.wires.find((w) => w.id === op.wireId);
  const material = findMaterial(book, plan.request.materialId);
  if (wire === undefined || material === undefined) {
    throw new BugError(
      `plan names wire ${op.wireId} or material ${plan.request.materialId}, which the shop book lacks`,
    );
  }
  const lines: CostLine[] = [
    {
      id: `wire-${op.number}`,
      label: `${opName(op)}: wire ${wire.id}`,
      group: 'use-up',
      total: apply(costOfMass, { mass: op.wireUseKg, runs, price: wire.pricePerKg }),
    },
  ];
  const price = book.rates.materialPricePerKg[material.id];
  if (price !== undefined) {
    const { plate } = op;
    const side = (mm: number, says: string): Figure => given(mm, 'mm', says, STATED_FOR_JOB);
    const mass = apply(plateMass, {
      length: side(plate.maxX - plate.minX, 'Plate length'),
      width: side(plate.maxY - plate.minY, 'Plate width'),
      height: side(plan.request.heightMm, 'Height of one plate'),
      stack: count(op.stack, 'Plates in the stack'),
      density: material.densityGPerCm3,
    });
    lines.push({
      id: `material-${op.number}`,
      label: `${opName(op)}: material ${material.id}`,
      group: 'material',
      total: apply(costOfMass, { mass, runs, price }),
    });
  }
  return lines;
}
