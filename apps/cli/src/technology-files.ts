import { existsSync, realpathSync, renameSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { Problem } from '@gapwright/base';
import { readXlsxCells } from '@gapwright/exchange';
import { parseTechnologyMap } from '@gapwright/job';
import { type ImportMapping, parseTechnologyBook, type TechnologyBook, technologyBookText } from '@gapwright/process';
import { csvCells } from './csv-cells.js';
import { readBytes, readText, writeFileIn } from './files.js';
import { InputError } from './input-error.js';

/** The cells of a CSV file or of one sheet of a workbook, header first. Throws one clear error. */
export async function readTableCells(path: string, sheet?: string): Promise<readonly (readonly string[])[]> {
  const bytes = readBytes(path);
  if (!/\.xlsx$/i.test(path)) {
    if (sheet !== undefined) throw new InputError(`--sheet goes with a workbook (FILE.xlsx), not with ${path}.`);
    return csvCells(bytes, path);
  }
  if (bytes.length === 0) throw new InputError(`${path} is empty. Give a workbook with a table of burns.`);
  const { value, problems } = await readXlsxCells(bytes, sheet);
  if (value === null) throw new InputError(`${path}: ${firstStop(problems)}`);
  return value;
}

/** The map of a table's columns; the first fault becomes the one clear error. */
export function loadTechnologyMap(path: string): ImportMapping {
  const { value, problems } = parseTechnologyMap(readText(path), path);
  if (value === null) throw new InputError(firstStop(problems));
  return value;
}

/** A technology book; the first fault becomes the one clear error. */
export function loadTechnologyBook(path: string): TechnologyBook {
  let data: unknown;
  try {
    data = JSON.parse(readText(path));
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw new InputError(`${path} is not JSON: ${(error as Error).message}. Give a technology book.`);
  }
  if (typeof data !== 'object' || data === null || !('format' in data)) {
    throw new InputError(
      `${path} is no technology book: it has no "format". Give one written by gapwright book import.`,
    );
  }
  const { value, problems } = parseTechnologyBook(data);
  if (value === null) throw new InputError(`${path}: ${firstStop(problems)}`);
  return value;
}

/** Refuses a file that is there already, unless it is the book read from. */
export function checkMayWrite(out: string, into: string | undefined): void {
  if (existsSync(out) && statSync(out).isDirectory()) {
    throw new InputError(`${out} is a folder. Give --out a file name in it.`);
  }
  if (!existsSync(out) || (into !== undefined && existsSync(into) && realpathSync(out) === realpathSync(into))) return;
  throw new InputError(`${out} is there already. Give --into ${out} as well to add to it, or another --out.`);
}

/** Writes a book in canonical form, beside its place first, so that a fault halfway leaves the old file whole. */
export function saveTechnologyBook(out: string, book: TechnologyBook): void {
  // A link stays a link: what it points to is replaced.
  const place = existsSync(out) ? realpathSync(out) : out;
  const part = `${basename(place)}.${process.pid}.part`;
  try {
    writeFileIn(dirname(place), part, technologyBookText(book));
    renameSync(join(dirname(place), part), place);
  } catch {
    rmSync(join(dirname(place), part), { force: true });
    throw new InputError(`${out} cannot be written. Give --out a file in a folder that can be.`);
  }
}

export function firstStop(problems: readonly Problem[]): string {
  return (problems.find((p) => p.severity === 'stop') ?? problems[0]!).message;
}
