import type { Result } from '@gapwright/base';
import {
  type JobInputs,
  type PlanDocument,
  type PriceDocument,
  planDocument,
  priceDocument,
  runJob,
  type SheetInputs,
  sheetAnswerOf,
  studyPrice,
} from '@gapwright/job';
import { isDay } from './day.js';
import { type HandOverFile, handOverFiles } from './hand-over-files.js';
import { type PlainSheet, plainSheet } from './plain-sheet.js';
import { badDay, notOffered } from './refusals.js';

/** An offer ready to be kept: what was handed over, what it rests on, and what it says. */
export interface HandOver {
  readonly files: readonly HandOverFile[];
  /**
   * Plain JSON data from which the plan can be opened again as it was offered: the whole answer of the job sheet, or
   * for a job that came without its sheet (a job file) the documents of plan and price.
   */
  readonly sheet: PlainSheet | { readonly plan: PlanDocument; readonly price: PriceDocument };
  readonly quantity: number;
  /** Price per piece offered, in `currency`. */
  readonly unitPrice: number;
  readonly currency: string;
  /** Chance, 0 to 1, that a piece costs more than its price. */
  readonly lossRisk: number;
}

/**
 * Runs a job and makes everything that leaves the desk with an offer. Refused, with a way out, when the day is none, a
 * problem stops the job or a program failed its proof; the job's own problems come along either way. `asked` is the
 * same job as its sheet asks it.
 */
export function makeHandOver(inputs: JobInputs, day: string, asked?: SheetInputs): Result<HandOver> {
  if (!isDay(day)) return { value: null, problems: [badDay(day)] };
  const run = runJob(inputs);
  const refusal = notOffered(run);
  if (refusal !== null || run.offer === null) return { value: null, problems: [refusal ?? [], run.problems].flat() };
  const study = studyPrice(run, inputs);
  const { quantity, unitPrice, currency, lossRisk } = run.offer;
  const { fileName } = inputs.drawing;
  const value = {
    files: handOverFiles(run, inputs, day, study),
    sheet:
      asked === undefined
        ? { plan: planDocument(run, fileName), price: priceDocument(run, study, fileName) }
        : plainSheet(sheetAnswerOf(asked)),
    quantity,
    unitPrice: unitPrice.value,
    currency,
    lossRisk: lossRisk.value,
  };
  return { value, problems: run.problems };
}
