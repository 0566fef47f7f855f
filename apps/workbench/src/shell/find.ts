/** A text made comparable: lower case, without accents. */
export function plainText(text: string): string {
  return text.normalize('NFD').replaceAll(/\p{M}/gu, '').toLowerCase();
}

/** How well one typed word fits a text: 0 not at all, 1 best. Letters in order are enough; runs and beginnings of words count more. */
function wordScore(word: string, text: string): number {
  const at = text.indexOf(word);
  if (at >= 0) {
    const startsWord = at === 0 || !/[\p{L}\p{N}]/u.test(text[at - 1]!);
    const share = word.length / text.length;
    return (at === 0 ? 0.85 : startsWord ? 0.8 : 0.65) + 0.15 * share;
  }
  // A number is found as it is written or not at all: 104 must not find 1.04.
  if (/^\p{N}+$/u.test(word)) return 0;
  let from = 0;
  let runs = 0;
  let last = -2;
  for (const letter of word) {
    const found = text.indexOf(letter, from);
    if (found < 0) return 0;
    if (found !== last + 1) runs += 1;
    last = found;
    from = found + 1;
  }
  // Letters strewn all over the text are chance, not meaning.
  if (runs > Math.max(2, word.length / 2)) return 0;
  return 0.5 / runs;
}

/** How well a typed text fits: every typed word must be found; 0 when one is not. */
export function findScore(typed: string, text: string): number {
  const words = plainText(typed).split(/\s+/).filter(Boolean);
  if (words.length === 0) return 1;
  const plain = plainText(text);
  if (plain === '') return 0;
  let sum = 0;
  for (const word of words) {
    const score = wordScore(word, plain);
    if (score === 0) return 0;
    sum += score;
  }
  return sum / words.length;
}

export interface Found<T> {
  readonly item: T;
  readonly score: number;
}

/** The best fits, best first; equal fits keep their order. The label counts more than the words behind it. */
export function findBest<T>(
  typed: string,
  items: readonly T[],
  textOf: (item: T) => { readonly label: string; readonly more: string },
  limit: number,
): readonly Found<T>[] {
  const found: Found<T>[] = [];
  for (const item of items) {
    const { label, more } = textOf(item);
    const score = Math.max(findScore(typed, label), 0.6 * findScore(typed, `${label} ${more}`));
    if (score > 0) found.push({ item, score });
  }
  return found.sort((a, b) => b.score - a.score).slice(0, limit);
}
