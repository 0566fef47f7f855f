/** A piece of a formula's text. */
interface Piece {
  readonly text: string;
  /** `operand`: a number or a symbol; `open` and `close`: brackets; `word`: anything said in words; `call`: a function. */
  readonly kind: 'operand' | 'open' | 'close' | 'word' | 'call' | 'sign' | 'space' | 'comma';
}

const PIECE = /\d+(?:\.\d+)?(?:e[+-]?\d+)?|[\p{L}_][\p{L}\p{Nd}_]*|\s+|[()]|,|[^\s\p{L}\p{Nd}_(),]/gu;
const SUPERSCRIPTS = '⁰¹²³⁴⁵⁶⁷⁸⁹ⁿ';

/** Formulas for any number of inputs end in an ellipsis: all inputs are listed then. */
const isOpenSum = (formula: string): boolean => formula.includes('…');

/**
 * The formula with the numbers put in, e.g. `s / v` to `150.4 / 3.281`. Where the formula leaves out the sign of a
 * product, two numbers side by side get it. `numbers` are the inputs by name, as they shall be written.
 */
export function formulaWithNumbers(formula: string, numbers: Readonly<Record<string, string>>): string {
  if (isOpenSum(formula)) return Object.values(numbers).join(' + ');
  const pieces = (formula.match(PIECE) ?? []).map((text, index, all) => pieceOf(text, all[index + 1], numbers));
  const saysWords = pieces.filter((p) => p.kind === 'word').length > 0;
  let out = '';
  for (let i = 0; i < pieces.length; i++) {
    const piece = pieces[i]!;
    const before = pieces[i - 1];
    const after = pieces[i + 1];
    if (piece.kind === 'space' && !saysWords && endsOperand(before) && startsOperand(after)) out += ' × ';
    else if (piece.kind === 'operand' && isSuper(after) && /^-|[ ×]/.test(piece.text)) out += `(${piece.text})`;
    else out += piece.text;
  }
  return out;
}

function pieceOf(text: string, next: string | undefined, numbers: Readonly<Record<string, string>>): Piece {
  if (/^\s+$/.test(text)) return { text: ' ', kind: 'space' };
  if (text === '(') return { text, kind: 'open' };
  if (text === ')') return { text, kind: 'close' };
  if (text === ',') return { text, kind: 'comma' };
  if (/^\d/.test(text) || SUPERSCRIPTS.includes(text)) {
    return { text, kind: /^\d/.test(text) ? 'operand' : 'close' };
  }
  if (!/^[\p{L}_]/u.test(text)) return { text, kind: 'sign' };
  if (Object.hasOwn(numbers, text)) return { text: numbers[text]!, kind: 'operand' };
  if (next === '(') return { text, kind: 'call' };
  // A constant such as π or g; longer ones are words.
  return { text, kind: text.length === 1 ? 'operand' : 'word' };
}

const endsOperand = (piece: Piece | undefined): boolean => piece?.kind === 'operand' || piece?.kind === 'close';
const startsOperand = (piece: Piece | undefined): boolean =>
  piece?.kind === 'operand' || piece?.kind === 'open' || piece?.kind === 'call';
const isSuper = (piece: Piece | undefined): boolean =>
  piece !== undefined && (SUPERSCRIPTS.includes(piece.text) || piece.text === '^');
