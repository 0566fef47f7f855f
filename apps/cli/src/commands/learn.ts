import { basename, dirname } from 'node:path';
import type { Problem } from '@gapwright/base';
import { learnBurnsDocument, learnDocument } from '@gapwright/job';
import {
  dateText,
  isBurnLog,
  learnFromTable,
  readBurnLog,
  summariseLog,
  type UpdatedBook,
  updateShopBook,
} from '@gapwright/process';
import { readText, shopBookPath, writeFileIn } from '../files.js';
import { InputError } from '../input-error.js';
import { jsonText, type Outcome } from '../outcome.js';
import { listFlag, numberFlag, type TypedArguments, textFlag } from '../parse-arguments.js';
import { learnText } from '../print/print-learn.js';
import { learnBurnsText } from '../print/print-learn-burns.js';
import { type CsvFile, readCsvFile } from '../read-csv.js';

/** `gapwright learn FILE.csv [--response COLUMN [--inputs A,B]] [--out BOOK.json]` */
export function learnCommand({ operands, flags }: TypedArguments): Outcome {
  const path = operands[0]!;
  const csv = readCsvFile(path);
  const response = textFlag(flags, 'response');
  if (response !== undefined) return learnColumn(path, csv, response, flags);
  for (const flag of ['inputs', 'seed']) {
    if (flags[flag] !== undefined) throw new InputError(`--${flag} needs --response COLUMN. Name the column to learn.`);
  }
  if (!isBurnLog(csv.table)) {
    const names = csv.table.columns.map((c) => c.name).slice(0, 12);
    throw new InputError(
      `${path} is no burn log (it has no columns actual_min and predicted_min). Give --response COLUMN; columns are: ${names.join(', ')}.`,
    );
  }
  return learnBurns(path, csv, flags);
}

function learnColumn(path: string, csv: CsvFile, response: string, flags: TypedArguments['flags']): Outcome {
  if (flags.out !== undefined) throw new InputError('--out writes a shop book and goes without --response.');
  const seed = numberFlag(flags, 'seed') ?? 1;
  const { value, problems } = learnFromTable(csv.table, response, listFlag(flags, 'inputs'), seed);
  if (value === null) throw new InputError(`${path}: ${firstFault(problems)}`);
  const all = [...csv.problems, ...problems];
  const document = learnDocument(value, all, path, csv.table.rows);
  return { exitCode: 0, text: flags.json ? jsonText(document) : learnText(document, all) };
}

function learnBurns(path: string, csv: CsvFile, flags: TypedArguments['flags']): Outcome {
  const { value: log, problems } = readBurnLog(csv.table);
  if (log === null) throw new InputError(`${path}: ${firstFault(problems)}`);
  const all: Problem[] = [...csv.problems, ...problems];
  const summary = summariseLog(log.burns);
  const days = { first: log.burns[0]!.day, last: log.burns.at(-1)!.day };
  const out = textFlag(flags, 'out');
  let updated: { book: UpdatedBook; out: string } | null = null;
  if (out !== undefined) {
    const bookPath = shopBookPath(textFlag(flags, 'shop'));
    const between = log.absent.includes('date') ? 'no dates' : `${dateText(days.first)} to ${dateText(days.last)}`;
    const result = updateShopBook(parseJson(bookPath), summary.book, between);
    if (result.value === null) throw new InputError(`${bookPath}: ${firstFault(result.problems)}`);
    all.push(...result.problems);
    writeFileIn(dirname(out), basename(out), `${jsonText(result.value.json)}\n`);
    updated = { book: result.value, out };
  }
  const document = learnBurnsDocument(summary, days, updated, all, path);
  return { exitCode: 0, text: flags.json ? jsonText(document) : learnBurnsText(document, all) };
}

function parseJson(path: string): unknown {
  const text = readText(path);
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new InputError(`${path} is not JSON: ${(error as Error).message}.`);
  }
}

function firstFault(problems: readonly Problem[]): string {
  return (problems.find((p) => p.severity === 'stop') ?? problems[0]!).message;
}
