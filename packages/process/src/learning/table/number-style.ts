import { type Problem, problem } from '@gapwright/base';

/** How numbers are written in one file. */
export interface NumberStyle {
  readonly decimal: '.' | ',';
  /** True when the file groups thousands with the other mark. */
  readonly hasThousands: boolean;
}

const PLAIN = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
const COMMA_DECIMAL = /^[+-]?(\d{1,3}(\.\d{3})+|\d+)?,\d+(e[+-]?\d+)?$/i;
const COMMA_THOUSANDS = /^[+-]?\d{1,3}(,\d{3})+(\.\d+)?$/;
const DOT_THOUSANDS = /^[+-]?\d{1,3}(\.\d{3})+(,\d+)?$/;
const SPACE_THOUSANDS = /^[+-]?\d{1,3}([ \u00a0\u202f']\d{3})+([.,]\d+)?$/;

/** Cells that say "nothing measured". */
const MISSING = /^(|na|n\/a|n\.a\.|nan|null|none|nil|missing|-|--|\?|#n\/a|#value!|#div\/0!)$/i;

export function isMissing(cell: string): boolean {
  return MISSING.test(cell.trim());
}

/**
 * Finds out from all cells of a file whether a comma divides decimals or thousands. `1,234` alone says neither; the rest of the
 * file decides, and when it does not, that is a stop problem and never a guess.
 */
export function numberStyleOf(cells: Iterable<string>): { style: NumberStyle; problems: readonly Problem[] } {
  let comma: string | undefined;
  let point: string | undefined;
  let either: string | undefined;
  let hasThousands = false;
  for (const raw of cells) {
    const cell = raw.trim();
    if (SPACE_THOUSANDS.test(cell)) hasThousands = true;
    if (COMMA_THOUSANDS.test(cell)) {
      hasThousands = true;
      // Two groups, or a point after them, leave no doubt.
      if (/,\d{3},|\./.test(cell)) point ??= cell;
      else if (/^[+-]?0,/.test(cell)) comma ??= cell;
      else either ??= cell;
    } else if (COMMA_DECIMAL.test(cell)) {
      comma ??= cell;
      if (cell.includes('.')) hasThousands = true;
    } else if (DOT_THOUSANDS.test(cell) && /\.\d{3}\./.test(cell)) {
      comma ??= cell;
      hasThousands = true;
    } else if (PLAIN.test(cell) && cell.includes('.') && !DOT_THOUSANDS.test(cell)) point ??= cell;
  }
  const problems: Problem[] = [];
  if (comma !== undefined && point !== undefined) {
    problems.push(
      problem({
        code: 'LEARN-MIXED-DECIMALS',
        severity: 'stop',
        what: `The file has decimal commas ("${comma}") and decimal points ("${point}")`,
        fix: 'Export it with one kind of decimal mark',
      }),
    );
  } else if (either !== undefined && comma === undefined && point === undefined) {
    problems.push(
      problem({
        code: 'LEARN-COMMA-UNCLEAR',
        severity: 'stop',
        what: `"${either}" can be a number of thousands or a decimal number, and nothing else in the file tells which`,
        fix: 'Export the file without thousands separators',
      }),
    );
  } else if (comma !== undefined) {
    problems.push(
      problem({
        code: 'LEARN-DECIMAL-COMMA',
        severity: 'info',
        what: `Numbers such as "${comma}" are read with a decimal comma`,
      }),
    );
  } else if (hasThousands) {
    problems.push(
      problem({
        code: 'LEARN-THOUSANDS',
        severity: 'info',
        what: `Thousands separators are read as such, e.g. "${either ?? point}"`,
      }),
    );
  }
  return { style: { decimal: comma === undefined ? '.' : ',', hasThousands }, problems };
}

/** The number in a cell; NaN when it is none. */
export function numberIn(raw: string, { decimal, hasThousands }: NumberStyle): number {
  let cell = raw.trim().replace(/^\u2212/, '-');
  if (hasThousands && SPACE_THOUSANDS.test(cell)) cell = cell.replace(/[ \u00a0\u202f']/g, '');
  if (decimal === ',') {
    if (COMMA_DECIMAL.test(cell) || DOT_THOUSANDS.test(cell)) cell = cell.replaceAll('.', '').replace(',', '.');
  } else if (hasThousands && COMMA_THOUSANDS.test(cell)) cell = cell.replaceAll(',', '');
  const value = PLAIN.test(cell) ? Number(cell) : Number.NaN;
  return Number.isFinite(value) ? value : Number.NaN;
}
