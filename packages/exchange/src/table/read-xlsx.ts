import { type Problem, problem, type Result } from '@gapwright/base';
import { readSheet } from 'read-excel-file/universal';

/** A workbook of burns is a few hundred kB; anything beyond is not a table of burns, or a trap. */
const MOST_BYTES = 20e6;
const MOST_UNPACKED_BYTES = 200e6;

/**
 * Reads one sheet of an XLSX workbook into text cells, header row first, every row equally long. Numbers keep the digits the
 * workbook stores; formulas give their stored result; dates come as ISO text. `sheet` is the name of a sheet, default the
 * first. Stops `TABLE-XLSX-TOO-LARGE`, `TABLE-XLSX-UNREADABLE` (not a workbook, damaged, or no such sheet) and `TABLE-EMPTY`.
 */
export async function readXlsxCells(
  bytes: Uint8Array,
  sheet?: string,
): Promise<Result<readonly (readonly string[])[]>> {
  const stop = (code: string, what: string, fix: string): Result<never> => {
    const problems: Problem[] = [problem({ code, severity: 'stop', what, fix })];
    return { value: null, problems };
  };
  const unpacked = unpackedBytes(bytes);
  if (bytes.length > MOST_BYTES || unpacked > MOST_UNPACKED_BYTES) {
    const what = `The workbook is ${Math.round(Math.max(bytes.length, unpacked) / 1e6)} MB`;
    return stop('TABLE-XLSX-TOO-LARGE', what, 'Save the sheet with the burns as a workbook of its own, or as CSV');
  }
  let rows: readonly (readonly unknown[])[];
  try {
    // A copy, so that the buffer holds this file and nothing else.
    const { buffer } = Uint8Array.from(bytes);
    rows = await readSheet(buffer, sheet ?? 1, { parseNumber: (digits: string) => digits });
  } catch (fault) {
    const why = fault instanceof Error ? fault.message : String(fault);
    return stop('TABLE-XLSX-UNREADABLE', `The workbook cannot be read: ${why}`, 'Save it again as XLSX, or as CSV');
  }
  const cells = rows.map((row) => row.map(cellText));
  const width = Math.max(0, ...cells.map((row) => row.length));
  if (width === 0) return stop('TABLE-EMPTY', 'The sheet is empty', 'Name the sheet that holds the burns');
  for (const row of cells) while (row.length < width) row.push('');
  return { value: cells, problems: [] };
}

function cellText(cell: unknown): string {
  if (cell === null || cell === undefined) return '';
  if (cell instanceof Date) return cell.toISOString();
  return String(cell);
}

/** Size of all files of a ZIP archive as its directory states it; 0 when there is no directory. */
function unpackedBytes(bytes: Uint8Array): number {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const DIRECTORY_ENTRY = 0x02014b50;
  const ENTRY_LENGTH = 46;
  let total = 0;
  for (let at = 0; at + ENTRY_LENGTH <= bytes.length; at++) {
    if (bytes[at] === 0x50 && view.getUint32(at, true) === DIRECTORY_ENTRY) total += view.getUint32(at + 24, true);
  }
  return total;
}
