import type { Problem } from '@gapwright/base';
import { bookImportDocument } from '@gapwright/job';
import {
  findMaterial,
  type ImportMapping,
  importTechnologyPoints,
  type MergedBook,
  meltEnergy,
  mergeTechnologyBooks,
  newTechnologyBook,
  sourceClash,
  type TechnologyPoint,
} from '@gapwright/process';
import { loadShopBook } from '../files.js';
import { InputError } from '../input-error.js';
import { jsonText, type Outcome } from '../outcome.js';
import { type TypedArguments, textFlag } from '../parse-arguments.js';
import { bookImportText } from '../print/print-book-import.js';
import {
  checkMayWrite,
  firstStop,
  loadTechnologyBook,
  loadTechnologyMap,
  readTableCells,
  saveTechnologyBook,
} from '../technology-files.js';

/** `gapwright book import FILE --map MAP.json [--sheet NAME] [--into BOOK.json] [--out NEW.json]` */
export async function bookImportCommand({ operands, flags }: TypedArguments): Promise<Outcome> {
  const path = operands[0]!;
  const mapPath = textFlag(flags, 'map');
  if (mapPath === undefined) {
    throw new InputError('Give --map MAP.json, which says what each column holds; see docs/technology-book.md.');
  }
  const into = textFlag(flags, 'into');
  const name = textFlag(flags, 'name');
  const out = textFlag(flags, 'out');
  const sheet = textFlag(flags, 'sheet');
  if (into !== undefined && name !== undefined)
    throw new InputError('--name is for a new book and goes without --into.');
  if (out !== undefined) checkMayWrite(out, into);
  const mapping = withMeltEnergy(loadTechnologyMap(mapPath), textFlag(flags, 'shop'));
  const clash = sourceClash(mapping.source);
  if (clash !== null) throw new InputError(`${mapPath}: ${clash}. Give the source another id.`);
  const old = into === undefined ? null : loadTechnologyBook(into);
  const cells = await readTableCells(path, sheet);

  const { value: points, problems } = importTechnologyPoints(cells, mapping);
  // A stop without a row is about the table as a whole: nothing more can be said of it.
  if (points === null && !problems.some(isAboutRow)) throw new InputError(`${path}: ${firstStop(problems)}`);
  const all = [...problems];
  let merged: MergedBook | null = null;
  if (points !== null) {
    const result = merge(old, points, name ?? mapping.source.title);
    if (result.value === null) throw new InputError(`${into}: ${firstStop(result.problems)}`);
    all.push(...result.problems);
    merged = result.value;
  }
  const replaced = (merged?.changes ?? []).filter((c) => c.kind === 'changed');
  const mustAsk = out !== undefined && replaced.length > 0 && !flags.replace;
  const written = out === undefined || mustAsk || merged === null || isSame(merged, out, into) ? null : out;
  if (written !== null) saveTechnologyBook(written, merged!.book);

  const from = { file: path, sheet: sheet ?? null, map: mapPath, meltEnergyJPerMm3: mapping.meltEnergyJPerMm3 ?? null };
  const document = bookImportDocument(from, points ?? [], merged, written, all);
  const text = flags.json ? jsonText(document) : bookImportText(document, mapping);
  const stops = all.filter((p) => p.severity === 'stop').length;
  if (stops > 0) {
    const count = stops === 1 ? '1 finding stops' : `${stops} findings stop`;
    return { exitCode: 2, text, complaint: `${path}: ${count} the import; nothing is written. ${firstStop(all)}` };
  }
  if (mustAsk) return { exitCode: 2, text, complaint: askToReplace(into!, replaced) };
  return { exitCode: 0, text };
}

/** True when the book to be written is the one that is there. */
function isSame(merged: MergedBook, out: string, into: string | undefined): boolean {
  return merged.changes.length === 0 && out === into;
}

/** Ids are row numbers: another table under the same prefix would take the place of the first. */
function askToReplace(into: string, replaced: MergedBook['changes']): string {
  const which =
    replaced.length === 1 ? `burn ${replaced[0]!.id}` : `${replaced.length} burns, the first ${replaced[0]!.id}`;
  return `${into} has ${which}, with other values; nothing is written. Give --replace if this table corrects them, or another idPrefix in the map if it is another table.`;
}

function isAboutRow(p: Problem): boolean {
  return p.severity === 'stop' && p.at?.line !== undefined;
}

function merge(
  old: Parameters<typeof mergeTechnologyBooks>[0] | null,
  points: readonly TechnologyPoint[],
  name: string,
): ReturnType<typeof mergeTechnologyBooks> {
  return old === null ? { value: newTechnologyBook(name, points), problems: [] } : mergeTechnologyBooks(old, points);
}

/** The map with the shop book's energy to melt, when it states none and the shop book knows the one material. */
function withMeltEnergy(mapping: ImportMapping, shop: string | undefined): ImportMapping {
  const book = loadShopBook(shop);
  if (mapping.meltEnergyJPerMm3 !== undefined || !('text' in mapping.material)) return mapping;
  const material = findMaterial(book, mapping.material.text);
  return material === undefined ? mapping : { ...mapping, meltEnergyJPerMm3: meltEnergy(material).value };
}
