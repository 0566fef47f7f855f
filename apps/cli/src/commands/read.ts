import { basename } from 'node:path';
import { hasStop } from '@gapwright/base';
import { type DrawingRun, readDocument, readDrawing } from '@gapwright/job';
import { readBytes } from '../files.js';
import { drawingFlags } from '../job-arguments.js';
import { jsonText, type Outcome } from '../outcome.js';
import type { TypedArguments } from '../parse-arguments.js';
import { readText } from '../print/print-read.js';
import { problemLines } from '../print/problems.js';

/** `gapwright read FILE.dxf` */
export function readCommand({ operands, flags }: TypedArguments): Outcome {
  const path = operands[0]!;
  const run = readDrawing({ bytes: readBytes(path), fileName: basename(path) }, drawingFlags(flags));
  const document = readDocument(run, path);
  const text = flags.json
    ? jsonText(document)
    : [readText(document), problemLines(run.problems)].filter(Boolean).join('\n\n');
  if (run.isBroken) return { ...brokenDrawing(run), text: flags.json ? text : '' };
  return { exitCode: hasStop(run.problems) ? 1 : 0, text };
}

/** A file that cannot be read at all: one sentence, exit code 2. */
export function brokenDrawing(run: DrawingRun): { exitCode: 2; complaint: string } {
  return {
    exitCode: 2,
    complaint: run.problems.find((p) => p.severity === 'stop')?.message ?? 'The drawing cannot be read.',
  };
}
