import { readFileSync } from 'node:fs';

/** Rows of a plain numeric CSV fixture with a header line; text cells become NaN. */
export function readCsv(name: string): Record<string, number>[] {
  const text = readFileSync(new URL(`../../../../fixtures/process/${name}`, import.meta.url), 'utf8');
  const [header, ...lines] = text.trim().split(/\r?\n/);
  const names = header!.split(',');
  return lines.map((line) => Object.fromEntries(line.split(',').map((cell, k) => [names[k]!, Number(cell)])));
}
