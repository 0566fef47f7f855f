import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bookCompareCommand } from './commands/book-compare.js';
import { bookEstimateCommand } from './commands/book-estimate.js';
import { bookImportCommand } from './commands/book-import.js';
import { learnCommand } from './commands/learn.js';
import { planCommand } from './commands/plan.js';
import { priceCommand } from './commands/price.js';
import { proveCommand } from './commands/prove.js';
import { readCommand } from './commands/read.js';
import { serveCommand } from './commands/serve.js';
import { whyCommand } from './commands/why.js';
import { type CommandName, helpText } from './flags.js';
import { InputError } from './input-error.js';
import type { Outcome } from './outcome.js';
import { parseArguments, type TypedArguments } from './parse-arguments.js';

const RUNS: Readonly<Record<CommandName, (typed: TypedArguments) => Outcome | Promise<Outcome>>> = {
  read: readCommand,
  plan: planCommand,
  prove: proveCommand,
  price: priceCommand,
  why: whyCommand,
  learn: learnCommand,
  'book import': bookImportCommand,
  'book compare': bookCompareCommand,
  'book estimate': bookEstimateCommand,
  serve: serveCommand,
};

/** What a command line came to. */
export interface Finished {
  readonly exitCode: 0 | 1 | 2 | 3;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs one command line. Never throws: bad input gives exit code 2, a fault of ours 3 with a report file. */
export async function runCommandLine(argv: readonly string[]): Promise<Finished> {
  try {
    const typed = parseArguments(argv);
    if ('helpFor' in typed) return { exitCode: 0, stdout: `${helpText(typed.helpFor)}\n`, stderr: '' };
    const { exitCode, text, complaint } = await RUNS[typed.command.name](typed);
    return {
      exitCode,
      stdout: text === '' ? '' : `${text}\n`,
      stderr: complaint === undefined ? '' : `${complaint}\n`,
    };
  } catch (error) {
    if (error instanceof InputError) return { exitCode: 2, stdout: '', stderr: `${error.message}\n` };
    return { exitCode: 3, stdout: '', stderr: `${reportFault(argv, error)}\n` };
  }
}

/** Writes what is needed to find a fault of ours into a file and says where. */
function reportFault(argv: readonly string[], error: unknown): string {
  const report = join(tmpdir(), `gapwright-fault-${process.pid}.txt`);
  const text = error instanceof Error ? error.stack : String(error);
  writeFileSync(report, `gapwright ${argv.join(' ')}\nnode ${process.version}\n\n${text}\n`);
  return `This is a fault of ours, not of your input: ${error instanceof Error ? error.message : error}. Please send ${report}.`;
}
