import { basename } from 'node:path';
import { type ProofDocument, proofJson, proveText, UNPROVED } from '@gapwright/job';
import { loadPost, loadShopBook, readBytes, readText } from '../files.js';
import { InputError } from '../input-error.js';
import { drawingFlags, readJobFile } from '../job-arguments.js';
import { jsonText, type Outcome } from '../outcome.js';
import { type TypedArguments, textFlag } from '../parse-arguments.js';
import { proofText } from '../print/print-prove.js';
import { problemLines } from '../print/problems.js';
import { brokenDrawing } from './read.js';

/** `gapwright prove PROGRAM --against FILE.dxf --job JOB.json` */
export function proveCommand({ operands, flags }: TypedArguments): Outcome {
  const program = operands[0]!;
  const drawing = neededFlag(flags, 'against', 'FILE.dxf');
  const jobPath = neededFlag(flags, 'job', 'JOB.json');
  const { fitMm, ...options } = drawingFlags(flags);
  const run = proveText({
    text: readText(program),
    programName: basename(program),
    post: loadPost(textFlag(flags, 'post')),
    drawing: { bytes: readBytes(drawing), fileName: basename(drawing) },
    job: { ...readJobFile(jobPath), ...options },
    book: loadShopBook(textFlag(flags, 'shop')),
    ...(fitMm === undefined ? {} : { fitMm }),
  });
  if (run.drawing.isBroken) return { ...brokenDrawing(run.drawing), text: '' };
  if (run.isInputBroken) return { exitCode: 2, text: '', complaint: `${program}: ${run.problems[0]!.message}` };
  const { proof, problems } = run;
  const document: ProofDocument = {
    document: 'gapwright-proof-1',
    program,
    drawing,
    ...(proof === null ? UNPROVED : proofJson(proof)),
    problems: [...problems],
  };
  const sheet = proof === null ? '' : proofText(proof, basename(program));
  const text = flags.json ? jsonText(document) : [sheet, problemLines(problems)].filter(Boolean).join('\n\n');
  return { exitCode: proof?.verdict === 'pass' ? 0 : 1, text };
}

function neededFlag(flags: TypedArguments['flags'], name: string, takes: string): string {
  const value = textFlag(flags, name);
  if (value === undefined)
    throw new InputError(`gapwright prove needs --${name} ${takes}. See gapwright prove --help.`);
  return value;
}
