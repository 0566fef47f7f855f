import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readXlsxCells } from './read-xlsx.js';

const fixture = (name: string) => new URL(`../../../../fixtures/${name}`, import.meta.url);
const workbook = readFileSync(fixture('table/in825-box-behnken.xlsx'));
const codes = async (bytes: Uint8Array, sheet?: string) =>
  (await readXlsxCells(bytes, sheet)).problems.map((p) => p.code);

describe('reading a workbook', () => {
  it('gives the same cells as the CSV it was made from', async () => {
    const csv = readFileSync(fixture('process/in825-box-behnken.csv'), 'utf8').trim();
    const expected = csv.split(/\r?\n/).map((line) => line.split(','));
    const { value, problems } = await readXlsxCells(workbook);
    expect(problems).toEqual([]);
    expect(value).toEqual(expected);
    expect((await readXlsxCells(workbook, 'burns')).value).toEqual(expected);
  });

  it('fills short rows, and reads a sheet by name', async () => {
    const { value } = await readXlsxCells(workbook, 'notes');
    expect(value!.slice(0, 2)).toEqual([
      ['note', '', ''],
      ['Box-Behnken design', '', 'x'],
    ]);
  });

  it('refuses what is no workbook, is damaged, lacks the sheet or is a trap', async () => {
    expect(await codes(new TextEncoder().encode('a,b\n1,2\n'))).toEqual(['TABLE-XLSX-UNREADABLE']);
    expect(await codes(new Uint8Array(0))).toEqual(['TABLE-XLSX-UNREADABLE']);
    expect(await codes(workbook.subarray(0, 900))).toEqual(['TABLE-XLSX-UNREADABLE']);
    expect(await codes(workbook, 'nowhere')).toEqual(['TABLE-XLSX-UNREADABLE']);
    const bomb = Uint8Array.from(workbook);
    // Claims a file of 4 GB in the directory.
    const at = workbook.indexOf(Uint8Array.of(0x50, 0x4b, 0x01, 0x02));
    bomb.fill(0xff, at + 24, at + 28);
    expect(await codes(bomb)).toEqual(['TABLE-XLSX-TOO-LARGE']);
  });
});
