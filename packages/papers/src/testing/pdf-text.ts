import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Runs one of poppler's programs on a PDF and returns what it prints. */
function poppler(program: 'pdftotext' | 'pdfinfo' | 'pdffonts', pdf: Uint8Array, args: readonly string[] = []): string {
  const folder = mkdtempSync(join(tmpdir(), 'gapwright-papers-'));
  try {
    const file = join(folder, 'paper.pdf');
    writeFileSync(file, pdf);
    const tail = program === 'pdftotext' ? [file, '-'] : [file];
    const run = spawnSync(program, [...args, ...tail], { encoding: 'utf8' });
    if (run.error !== undefined) {
      throw new Error(
        `${program} cannot be run (${run.error.message}). These tests read our PDFs with poppler: apt-get install poppler-utils.`,
      );
    }
    if (run.status !== 0) throw new Error(`${program} refused our PDF: ${run.stderr}`);
    return run.stdout;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Text of a PDF in reading order of the page layout, as an independent program finds it. */
export const pdfText = (pdf: Uint8Array): string => poppler('pdftotext', pdf, ['-layout', '-enc', 'UTF-8']);

/** Properties of a PDF by name, e.g. `Pages`, `Tagged`, `Title`. */
export function pdfInfo(pdf: Uint8Array): ReadonlyMap<string, string> {
  const rows = poppler('pdfinfo', pdf)
    .split('\n')
    .map((row) => /^([^:]+):\s*(.*)$/.exec(row));
  return new Map(rows.flatMap((m) => (m === null ? [] : [[m[1]!, m[2]!] as const])));
}

/** Names of the embedded typefaces. */
export function pdfFonts(pdf: Uint8Array): { readonly name: string; readonly isEmbedded: boolean }[] {
  return poppler('pdffonts', pdf)
    .split('\n')
    .slice(2)
    .filter((row) => row.trim() !== '')
    .map((row) => ({ name: row.split(/\s+/)[0]!, isEmbedded: / yes +(yes|no) +(yes|no) +\d+ +\d+ *$/.test(row) }));
}
