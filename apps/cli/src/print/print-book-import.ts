import { shortNumber } from '@gapwright/base';
import type { BookImportDocument } from '@gapwright/job';
import { type ImportMapping, roleOf, TECHNOLOGY_QUANTITIES } from '@gapwright/process';
import { textTable, wrap } from '../text-table.js';
import { changeCounts, changeLines } from './print-book-compare.js';
import { problemLines } from './problems.js';

/** Longest header shown, letters, so that the table keeps within 100 columns. */
const MOST_LETTERS = 24;
/** Replaced points told on a screen; JSON has all. */
const MOST_CHANGES = 10;

/** What was taken from a table of burns, what is odd about it, and what became of the book. */
export function bookImportText(d: BookImportDocument, mapping: ImportMapping): string {
  const out: string[] = [];
  if (d.points.length > 0) out.push(...takenLines(d, mapping), '');
  if (d.problems.length > 0) out.push(problemLines(d.problems), '');
  if (d.meltEnergyJPerMm3 === null) {
    const words = 'Rates are not held against the energy ceiling: neither map nor shop book knows the energy to melt.';
    out.push(wrap(words, 100, '  '), '');
  }
  out.push(bookLines(d));
  return out.join('\n');
}

function takenLines(d: BookImportDocument, mapping: ImportMapping): string[] {
  const names = (of: (p: BookImportDocument['points'][number]) => string): string =>
    [...new Set(d.points.map(of))].slice(0, MOST_CHANGES).join(', ');
  const count = `${d.points.length} burn${d.points.length === 1 ? '' : 's'}`;
  const subject = `${mapping.process} of ${names((p) => p.material)} with ${names((p) => p.tool)}`;
  const rows = mapping.columns.map(({ header, quantity, unit }) => {
    const role = roleOf(quantity) === 'condition' ? 'conditions' : 'results';
    const values = d.points.flatMap((p) => p[role][quantity] ?? []).sort((a, b) => a - b);
    const entry = TECHNOLOGY_QUANTITIES[quantity];
    const shown = (v: number | undefined): string => (v === undefined ? '-' : shortNumber(v, 4));
    return [
      clipped(header),
      clipped(unit),
      entry.says,
      String(values.length),
      shown(values[0]),
      shown(values.at(-1)),
      entry.unit === '1' ? '' : entry.unit,
    ];
  });
  const head = ['column', 'in', 'taken as', 'values', 'from', 'to', ''];
  return [
    wrap(`${d.file}: ${count}, ${subject} [${mapping.source.standing}: ${mapping.source.title}]`, 100, '  '),
    '',
    textTable(head, rows, [0, 1, 2, 6]),
  ];
}

function bookLines(d: BookImportDocument): string {
  const { book } = d;
  if (book === null) return 'Nothing is written.';
  const lines: string[] = [];
  const replaced = d.changes.filter((c) => c.kind !== 'added');
  if (d.changes.length === 0) lines.push(`The book holds all these burns already; it stays version ${book.toVersion}.`);
  else {
    const made = book.fromVersion === null ? 'a new book' : `version ${book.fromVersion}`;
    const words = `${book.name}, version ${book.toVersion} from ${made}: ${changeCounts(d.changes)}; ${book.points} points in all.`;
    lines.push(wrap(words, 100, '  '));
    lines.push(...changeLines(replaced, MOST_CHANGES));
  }
  if (book.out !== null) lines.push(`Written to ${book.out}.`);
  else if (d.changes.length === 0) lines.push('Nothing is written.');
  else
    lines.push(
      `Nothing is written yet; ${replaced.length > 0 ? '--out FILE.json --replace' : '--out FILE.json'} writes it.`,
    );
  return lines.join('\n');
}

function clipped(text: string): string {
  return text.length > MOST_LETTERS ? `${text.slice(0, MOST_LETTERS - 1)}…` : text;
}
