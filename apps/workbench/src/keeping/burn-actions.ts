import type { BurnContent } from '@gapwright/records';
import type { Keeper } from './keeper.js';
import { enqueue } from './steps.js';

/** The burn log only grows: corrections and strikes are entries of their own. */
export function makeBurnActions(keeper: Keeper) {
  const add = async (entries: readonly { content: BurnContent | null; replaces: string | null }[]): Promise<void> => {
    const records = entries.map((entry) => {
      const { id, madeAt, madeBy } = keeper.making();
      return { id, madeAt, madeBy, ...entry };
    });
    await keeper.inLine(async (tx) => {
      for (const record of records) {
        await tx.put('burns', { id: record.id, record, kept: null });
        await enqueue(tx, 'burn', record.id, null);
      }
    });
  };
  return {
    addBurns: (contents: readonly BurnContent[]) => add(contents.map((content) => ({ content, replaces: null }))),
    correctBurn: (id: string, content: BurnContent) => add([{ content, replaces: id }]),
    strikeBurn: (id: string) => add([{ content: null, replaces: id }]),
  };
}
