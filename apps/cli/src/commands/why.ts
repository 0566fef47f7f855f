import {
  type PackedDocument,
  planDocument,
  priceDocument,
  runJob,
  studyPrice,
  whyDocument,
  whyOf,
} from '@gapwright/job';
import { readText } from '../files.js';
import { InputError } from '../input-error.js';
import { resolveJob } from '../job-arguments.js';
import { jsonText, type Outcome } from '../outcome.js';
import { countFlag, type TypedArguments } from '../parse-arguments.js';
import { whyText } from '../print/print-why.js';

/** `gapwright why FIGURE-PATH JOB.json|PLAN.json`; a saved `--json` document is opened as it was, a job is planned again. */
export function whyCommand({ operands, flags }: TypedArguments): Outcome {
  const [path, file] = operands as [string, string];
  const document = savedDocument(file) ?? plannedDocument(path, file, flags);
  const { value, problems } = whyOf(document, path, countFlag(flags, 'depth') ?? Number.POSITIVE_INFINITY);
  if (value === null) throw new InputError(problems[0]!.message);
  return { exitCode: 0, text: flags.json ? jsonText(whyDocument(value)) : whyText(value) };
}

function savedDocument(file: string): PackedDocument | null {
  if (!/\.json$/i.test(file)) return null;
  let data: unknown;
  try {
    data = JSON.parse(readText(file));
  } catch (error) {
    if (error instanceof InputError) throw error;
    return null;
  }
  return typeof data === 'object' && data !== null && 'document' in data && 'figures' in data
    ? (data as unknown as PackedDocument)
    : null;
}

function plannedDocument(path: string, file: string, flags: TypedArguments['flags']): PackedDocument {
  const { inputs } = resolveJob(file, flags);
  const run = runJob(inputs);
  // Other quantities and the price drivers are planned only when asked for.
  const isStudy = /^(table|drivers)\b/.test(path);
  return isStudy ? priceDocument(run, studyPrice(run, inputs), file) : planDocument(run, file);
}
