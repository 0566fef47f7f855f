import type { Figure, Problem } from '@gapwright/base';
import { bookEstimateDocument } from '@gapwright/job';
import {
  choosePoints,
  findMaterial,
  interpolateTechnology,
  meltEnergy,
  nearestTechnologyPoints,
  type PointsChosen,
  type TechnologyBook,
  type TechnologyPoint,
  type TechnologyQuery,
} from '@gapwright/process';
import { conditionsOf, processOf, responseOf } from '../book-question.js';
import { loadShopBook } from '../files.js';
import { InputError } from '../input-error.js';
import { jsonText, type Outcome } from '../outcome.js';
import { type TypedArguments, textFlag } from '../parse-arguments.js';
import { bookEstimateText } from '../print/print-book-estimate.js';
import { firstStop, loadTechnologyBook } from '../technology-files.js';

/** Nearest points shown. */
const NEAREST = 5;

/** `gapwright book estimate BOOK.json --material ID --response WORD --at NAME=N,…`; exit code 1 when it refuses. */
export function bookEstimateCommand({ operands, flags }: TypedArguments): Outcome {
  const file = operands[0]!;
  const material = needed(flags, 'material', 'ID');
  const results = responseOf(needed(flags, 'response', 'WORD'));
  const conditions = conditionsOf(needed(flags, 'at', '"NAME=NUMBER,…"'));
  const process = textFlag(flags, 'process');
  const tool = textFlag(flags, 'tool');
  const known = findMaterial(loadShopBook(textFlag(flags, 'shop')), material);
  const melt = known === undefined ? null : meltEnergy(known);
  const book = loadTechnologyBook(file);
  const chosen = choosePoints(book.points, {
    material,
    results,
    ...(process === undefined ? {} : { process: processOf(process) }),
    ...(tool === undefined ? {} : { tool }),
  });
  if (chosen.problems[0]?.code === 'TECH-POINTS-UNCLEAR') {
    const { message, at } = chosen.problems[0];
    throw new InputError(`${message.replace(/\.$/, '')} with --${at?.field}.`);
  }
  const answer = chosen.value === null ? null : ask(book, material, conditions, chosen.value, melt);
  const problems = answer?.problems ?? chosen.problems;
  if (problems.some((p) => p.code === 'TECH-CONDITION-MISSING')) throw new InputError(`--at: ${firstStop(problems)}`);
  const document = bookEstimateDocument(book, {
    ...{ file, material, conditions, problems },
    process: chosen.value?.process ?? null,
    tool: chosen.value?.tool ?? null,
    response: chosen.value?.result ?? null,
    estimate: answer?.estimate ?? null,
    meltEnergy: melt,
    nearest: answer?.nearest ?? [],
  });
  const text = flags.json ? jsonText(document) : bookEstimateText(document);
  return { exitCode: document.estimate === null ? 1 : 0, text };
}

interface Answer {
  readonly estimate: Figure | null;
  readonly nearest: readonly TechnologyPoint[];
  readonly problems: readonly Problem[];
}

function ask(
  book: TechnologyBook,
  material: string,
  conditions: TechnologyQuery['conditions'],
  chosen: PointsChosen,
  melt: Figure | null,
): Answer {
  const query = { material, conditions, ...chosen };
  const { value, problems } = interpolateTechnology(
    book.points,
    melt === null ? query : { ...query, meltEnergyJPerMm3: melt.value },
  );
  return { estimate: value, nearest: nearestTechnologyPoints(book.points, query, NEAREST), problems };
}

function needed(flags: TypedArguments['flags'], name: string, takes: string): string {
  const text = textFlag(flags, name);
  if (text === undefined) throw new InputError(`Give --${name} ${takes}; see gapwright book estimate --help.`);
  return text;
}
