import { hasStop, type Problem, type Result } from '@gapwright/base';
import { type JobInputs, type JobRun, runJob, studyPrice } from '@gapwright/job';
import { type PaperData, type PaperKind, renderPaper, renderPaperPages } from '@gapwright/papers';
import { chosenSavings } from './chosen-savings.js';
import { createdAtS, isDay } from './day.js';
import type { PaperContext } from './paper-data/context.js';
import { drawingOf } from './paper-data/drawing.js';
import { letterData } from './paper-data/letter.js';
import { quotationData } from './paper-data/quotation.js';
import { routeCardData } from './paper-data/route-card.js';
import { setUpSheetData } from './paper-data/set-up-sheet.js';
import { badDay, noProgram, notOffered } from './refusals.js';
import { wireOperationOf } from './wire-operation.js';

/** One paper of a job as it stands. */
export interface PaperAsk {
  readonly kind: 'quotation' | 'set-up-sheet' | 'route-card' | 'letter';
  /** The file itself, or pages to look at. */
  readonly form: 'pdf' | 'svg';
  /** Number of the operation a set-up sheet is for; the first with a program when null. */
  readonly operation: number | null;
  /** Day on the paper, `YYYY-MM-DD`. */
  readonly day: string;
  /** Ids of the changes a letter asks for, see `priceDriverId`; empty: all that save something. */
  readonly asks: readonly string[];
}

export type MadePaper = { readonly pdf: Uint8Array } | { readonly pages: readonly string[] };

/**
 * Runs a job and makes one of its papers. Papers with prices are refused while a proof fails; all are refused while a
 * problem stops the job. A set-up sheet with a failed proof is made and says so on its face.
 */
export function makePaper(ask: PaperAsk, inputs: JobInputs): Result<MadePaper> {
  if (!isDay(ask.day)) return refused([badDay(ask.day)]);
  const run = runJob(inputs);
  const { plan, offer } = run;
  const refusal = notOffered(run);
  const isForCustomer = ask.kind === 'quotation' || ask.kind === 'letter';
  if (plan === null || offer === null || (refusal !== null && (isForCustomer || hasStop(run.problems)))) {
    return refused([refusal ?? [], run.problems].flat());
  }
  // What drives the price is planned anew for each change, so it is asked for only where it is printed.
  const study = isForCustomer ? studyPrice(run, inputs) : { table: [], drivers: [] };
  const context: PaperContext = { run, plan, offer, study, inputs, date: ask.day };
  switch (ask.kind) {
    case 'quotation':
      return made(ask, 'quotation', quotationData(context), run);
    case 'letter': {
      const { value: drivers, problems } = chosenSavings(study, ask.asks);
      return drivers === null ? refused(problems) : made(ask, 'letter', letterData(context, drivers), run);
    }
    case 'route-card':
      return made(ask, 'route-card', routeCardData(context), run);
    case 'set-up-sheet': {
      const number = ask.operation ?? run.programs[0]?.operation;
      const program = run.programs.find((p) => p.operation === number);
      if (program === undefined) return refused([noProgram(ask.operation, run)]);
      const operation = wireOperationOf(plan, program.operation);
      const data = setUpSheetData(context, operation, program, drawingOf(run, plan, operation));
      return made(ask, 'set-up-sheet', data, run);
    }
  }
}

function made<K extends PaperKind>(ask: PaperAsk, kind: K, data: PaperData[K], run: JobRun): Result<MadePaper> {
  const value =
    ask.form === 'pdf'
      ? { pdf: renderPaper(kind, data, { createdAtS: createdAtS(ask.day) }) }
      : { pages: renderPaperPages(kind, data) };
  return { value, problems: run.problems };
}

function refused(problems: readonly Problem[]): Result<MadePaper> {
  return { value: null, problems };
}
