import { useMemo, useState } from 'react';
import { SheetDialog } from '../kit/dialog.js';
import { useAllCommands, useAllFindables } from './commands.js';
import { findBest } from './find.js';
import { FinderList, type FinderRow } from './finder-list.js';

/** Most rows shown at once; a better word is quicker than a longer list. */
const LIMIT = 40;

/** Finds anything by a few letters: jobs, places, figures of the open job, commands. */
export default function Finder({ onClose }: { readonly onClose: () => void }) {
  const [typed, setTyped] = useState('');
  const commands = useAllCommands();
  const findables = useAllFindables();
  const all = useMemo(
    (): readonly FinderRow[] => [
      ...findables.flatMap(({ group, items }) =>
        items.map((item) => ({
          id: `${group}/${item.id}`,
          kind: group,
          label: item.label,
          says: item.says ?? null,
          words: `${item.says ?? ''} ${item.words ?? ''}`,
          keys: null,
          isPossible: true,
          run: item.run,
        })),
      ),
      ...commands
        .filter((c) => c.id !== 'frame.find')
        .map((c) => ({
          id: `command/${c.id}`,
          kind: 'Command',
          label: c.label,
          says: null,
          words: c.group ?? '',
          keys: c.keys ?? null,
          isPossible: c.isPossible ?? true,
          run: c.run,
        })),
    ],
    [commands, findables],
  );
  const rows = useMemo(
    () => findBest(typed, all, (row) => ({ label: row.label, more: row.words }), LIMIT).map((f) => f.item),
    [typed, all],
  );
  return (
    <SheetDialog title="Find" isOpen onClose={onClose}>
      <FinderList
        typed={typed}
        onType={setTyped}
        rows={rows}
        onChoose={(row) => {
          onClose();
          // The dialog gives focus back first; what is found may then take it.
          setTimeout(row.run, 0);
        }}
      />
    </SheetDialog>
  );
}
