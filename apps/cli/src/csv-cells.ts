import { InputError } from './input-error.js';
import { parseCsv } from './parse-csv.js';

/**
 * The cells of a CSV file as text, header first, every row equally long, blank rows kept so that rows keep their numbers.
 * Throws one clear error.
 */
export function csvCells(bytes: Uint8Array, path: string): readonly (readonly string[])[] {
  const { rows, uneven } = parseCsv(bytes, path, 'kept');
  const isBlank = (row: readonly string[]): boolean => row.every((cell) => cell.trim() === '');
  while (rows.length > 0 && isBlank(rows.at(-1)!)) rows.pop();
  if (isBlank(rows[0]!)) {
    throw new InputError(`The first line of ${path} is blank. Put the names of the columns there.`);
  }
  const width = rows[0]!.length;
  const odd = rows.findIndex((row) => row.length !== width && !isBlank(row));
  if (odd >= 0) throw uneven(odd);
  return rows.map((row) => (row.length === width ? row : Array.from({ length: width }, () => '')));
}
