import { learnDocument } from '@gapwright/job';
import { learnFromTable } from '@gapwright/process';
import { InputError } from '../input-error.js';
import { jsonText, type Outcome } from '../outcome.js';
import { listFlag, numberFlag, type TypedArguments, textFlag } from '../parse-arguments.js';
import { learnText } from '../print/print-learn.js';
import { readCsvFile } from '../read-csv.js';

/** `gapwright learn FILE.csv [--response COLUMN [--inputs A,B]]` */
export function learnCommand({ operands, flags }: TypedArguments): Outcome {
  const path = operands[0]!;
  const response = textFlag(flags, 'response');
  if (response === undefined) {
    throw new InputError('gapwright learn needs --response COLUMN. See gapwright learn --help.');
  }
  const { table, problems: read } = readCsvFile(path);
  const seed = numberFlag(flags, 'seed') ?? 1;
  const { value, problems } = learnFromTable(table, response, listFlag(flags, 'inputs'), seed);
  if (value === null) {
    const fault = problems.find((p) => p.severity === 'stop') ?? problems[0]!;
    throw new InputError(`${path}: ${fault.message}`);
  }
  const all = [...read, ...problems];
  const document = learnDocument(value, all, path, table.rows);
  return { exitCode: 0, text: flags.json ? jsonText(document) : learnText(document, all) };
}
