import { useMemo } from 'react';
import { type HeldJob, useKeepingActions } from '../keeping/index.js';
import { useCommands, useFindables } from '../shell/commands.js';
import { type ContentsEntry, goToSection } from './layout/contents.js';

interface SheetCommandsInput {
  readonly job: HeldJob;
  readonly contents: readonly ContentsEntry[];
  readonly isTrying: boolean;
  readonly onTry: () => void;
  readonly onPutAway: () => void;
}

const GROUP = 'Job sheet';

/** What the keyboard and the finder can do on a job sheet. */
export function useSheetCommands({ job, contents, isTrying, onTry, onPutAway }: SheetCommandsInput): void {
  const { undo, redo } = useKeepingActions();
  const { jobId } = job;
  useCommands([
    {
      id: 'sheet.undo',
      label: job.undoSays === null ? 'Undo' : `Undo: ${job.undoSays}`,
      keys: 'Mod+Z',
      group: GROUP,
      isPossible: job.canUndo,
      run: () => undo(jobId),
    },
    {
      id: 'sheet.redo',
      label: job.redoSays === null ? 'Redo' : `Redo: ${job.redoSays}`,
      keys: 'Mod+Shift+Z',
      group: GROUP,
      isPossible: job.canRedo,
      run: () => redo(jobId),
    },
    {
      id: 'sheet.try',
      label: isTrying ? 'Put the tried change away' : 'Try a change',
      keys: 't c',
      group: GROUP,
      run: isTrying ? onPutAway : onTry,
    },
    ...contents.map(({ id, title }, index) => ({
      id: `sheet.go.${id}`,
      label: `Go to ${/^\d+$/.test(title) ? `operation ${title}` : title.toLowerCase()}`,
      group: GROUP,
      ...(index < 9 ? { keys: `s ${index + 1}` } : {}),
      run: () => goToSection(id),
    })),
  ]);
  const key = contents.map((c) => `${c.id} ${c.title}`).join('|');
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key says all that is shown of the contents
  const items = useMemo(
    () =>
      contents.map(({ id, title }) => ({
        id,
        label: /^\d+$/.test(title) ? `Operation ${title}` : title,
        run: () => goToSection(id),
      })),
    [key],
  );
  useFindables('On this sheet', items);
}
