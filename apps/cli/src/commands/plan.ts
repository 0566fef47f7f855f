import { hasStop } from '@gapwright/base';
import { isProven, planDocument, runJob } from '@gapwright/job';
import { resolveJob } from '../job-arguments.js';
import { jsonText, type Outcome } from '../outcome.js';
import { type TypedArguments, textFlag } from '../parse-arguments.js';
import { planText } from '../print/print-plan.js';
import { problemLines } from '../print/problems.js';
import { brokenDrawing } from './read.js';

/** `gapwright plan FILE.dxf|JOB.json` */
export async function planCommand({ operands, flags }: TypedArguments): Promise<Outcome> {
  const { inputs, shownFile } = resolveJob(operands[0]!, flags);
  const run = runJob(inputs);
  const json = flags.json ? jsonText(planDocument(run, shownFile)) : '';
  if (run.drawing.isBroken) return { ...brokenDrawing(run.drawing), text: json };

  const out = textFlag(flags, 'out');
  let written: string[] = [];
  if (out !== undefined) {
    // The PDF compiler is large; it is loaded only when papers are asked for.
    const { writeHandOver } = await import('../write-hand-over.js');
    written = writeHandOver(out, run, inputs, textFlag(flags, 'date'));
  }
  const exitCode = hasStop(run.problems) || !isProven(run) ? 1 : 0;
  if (flags.json) return { exitCode, text: json };
  const handOver = written.length === 0 ? '' : `Written:\n${written.map((w) => `  ${w}`).join('\n')}`;
  return { exitCode, text: [planText(run), problemLines(run.problems), handOver].filter(Boolean).join('\n\n') };
}
