import type { SheetAnswer } from '@gapwright/job';

/** The answer out of the file an offer keeps. Throws a sentence when the file is not one. */
export function readKeptAnswer(bytes: Uint8Array): SheetAnswer {
  const kept: unknown = JSON.parse(new TextDecoder().decode(bytes));
  if (typeof kept !== 'object' || kept === null || !('problems' in kept) || !('decisions' in kept)) {
    throw new Error('the kept file holds no job sheet');
  }
  // Lines of the drawing are kept as plain lists where they are kept at all; the figures are what was offered.
  return { ...(kept as SheetAnswer), scene: null };
}
