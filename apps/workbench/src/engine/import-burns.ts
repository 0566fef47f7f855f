import { type Problem, problem } from '@gapwright/base';
import { readXlsxCells } from '@gapwright/exchange';
import { burnsFromCells } from '@gapwright/job';
import Papa from 'papaparse';
import type { BurnImport } from './side-messages.js';

/** Most cells of one table; a burn log of a large shop has some ten thousand lines. */
const MOST_CELLS = 5_000_000;

/** Reads a burn log from a CSV file or the first sheet of a workbook. */
export async function importBurns(bytes: Uint8Array, fileName: string): Promise<BurnImport> {
  if (/\.xlsx$/i.test(fileName)) {
    const { value, problems } = await readXlsxCells(bytes);
    return value === null ? { contents: [], problems } : contentsOf(value, problems);
  }
  const text = textOf(bytes);
  if (text === null) return refused('is no text in UTF-8', 'Export the table as CSV in UTF-8', fileName);
  const { data, errors } = Papa.parse<string[]>(text, {
    delimitersToGuess: [',', ';', '\t', '|'],
    skipEmptyLines: 'greedy',
  });
  if (errors.some((e) => e.type === 'Quotes')) {
    return refused('has quotes that are not closed', 'Close the quotes or remove them', fileName);
  }
  const width = data[0]?.length ?? 0;
  if (width * data.length > MOST_CELLS) return refused('is too large', 'Split it by years', fileName);
  const odd = data.findIndex((row) => row.length !== width);
  if (odd >= 0) {
    const what = `has ${data[odd]!.length} cells in line ${odd + 1}, while the header has ${width}`;
    return refused(
      what,
      'Give every line one cell per column; decimal commas need a semicolon between cells',
      fileName,
    );
  }
  return contentsOf(data, []);
}

function contentsOf(cells: readonly (readonly string[])[], found: readonly Problem[]): BurnImport {
  const { burns, problems } = burnsFromCells(cells);
  const contents = burns.map((b) => ({ ...b, jobId: null, operation: null, note: '' }));
  return { contents, problems: [...found, ...problems] };
}

/** Text in UTF-8 or, with its mark, UTF-16; null for anything else. */
function textOf(bytes: Uint8Array): string | null {
  const isLittle = bytes[0] === 0xff && bytes[1] === 0xfe;
  const isBig = bytes[0] === 0xfe && bytes[1] === 0xff;
  try {
    const text = new TextDecoder(isLittle ? 'utf-16le' : isBig ? 'utf-16be' : 'utf-8', { fatal: true }).decode(bytes);
    return text.includes('\u0000') ? null : text;
  } catch {
    return null;
  }
}

function refused(what: string, fix: string, file: string): BurnImport {
  const problems = [
    problem({ code: 'TABLE-UNREADABLE', severity: 'stop', what: `${file} ${what}`, fix, at: { file } }),
  ];
  return { contents: [], problems };
}
