import { BlockScanner } from '../block-scanner.js';
import type { PostDefinition } from '../post-definition.js';

/** Every word of a text but block numbers, as `[letter, value]`, one list for each line that holds any. */
export function scanWords(text: string, post: PostDefinition): [string, number][][] {
  const scanner = new BlockScanner(text, post);
  const lines: [string, number][][] = [];
  const numberLetter = post.blockNumbers?.letter;
  for (let block = scanner.next(); block !== null; block = scanner.next()) {
    const words = block.words.filter((w) => w.letter !== numberLetter);
    if (words.length > 0) lines.push(words.map((w) => [w.letter, w.value]));
  }
  if (scanner.failure !== null) throw new Error(scanner.failure.message);
  return lines;
}
