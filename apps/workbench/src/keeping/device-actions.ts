import { exportText } from './export.js';
import { readExport, takeExport } from './import.js';
import type { Keeper } from './keeper.js';

/** Everything on this device in and out as one file, so that nothing ever depends on one browser alone. */
export function makeDeviceActions(keeper: Keeper) {
  return {
    async exportAll(): Promise<Blob> {
      const text = await keeper.read((tx) => exportText(tx, keeper.tools.now()));
      return new Blob([text], { type: 'application/json' });
    },
    /** Adds an export to what is here. Rejects with a sentence, and with nothing changed, when it is not whole. */
    async importAll(file: Blob): Promise<void> {
      const data = await readExport(await file.text());
      await keeper.inLine((tx) => takeExport(tx, data));
      await keeper.reload();
    },
    /** What was set aside when another store was met, the newest first; each is an export. */
    async setAsides(): Promise<readonly { readonly setAsideAt: string; readonly file: Blob }[]> {
      const rows = await keeper.read((tx) => tx.all('setAside'));
      return rows
        .map((row) => ({ setAsideAt: row.key, file: new Blob([row.text], { type: 'application/json' }) }))
        .sort((a, b) => (a.setAsideAt < b.setAsideAt ? 1 : -1));
    },
  };
}
