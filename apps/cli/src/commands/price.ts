import { hasStop } from '@gapwright/base';
import { isProven, priceDocument, runJob, studyPrice } from '@gapwright/job';
import { resolveJob } from '../job-arguments.js';
import { jsonText, type Outcome } from '../outcome.js';
import type { TypedArguments } from '../parse-arguments.js';
import { priceText } from '../print/print-price.js';
import { problemLines } from '../print/problems.js';
import { brokenDrawing } from './read.js';

/** `gapwright price JOB.json` */
export function priceCommand({ operands, flags }: TypedArguments): Outcome {
  const { inputs, shownFile } = resolveJob(operands[0]!, flags);
  const run = runJob(inputs);
  const study = studyPrice(run, inputs);
  const json = flags.json ? jsonText(priceDocument(run, study, shownFile)) : '';
  if (run.drawing.isBroken) return { ...brokenDrawing(run.drawing), text: json };
  const exitCode = hasStop(run.problems) || !isProven(run) ? 1 : 0;
  if (flags.json) return { exitCode, text: json };
  const offer = run.offer === null ? '' : priceText(run.offer, study);
  return { exitCode, text: [offer, problemLines(run.problems)].filter(Boolean).join('\n\n') };
}
