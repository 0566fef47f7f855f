import type { JobStage } from '@gapwright/records';
import { useCallback, useState } from 'react';
import { useKeepingActions } from '../keeping/index.js';
import { Button } from '../kit/button.js';
import { useCommands } from '../shell/commands.js';
import { type SlipJob, titleOf } from './slip.js';
import { STAGE_WORDS } from './stages.js';

export interface Moves {
  readonly move: (job: SlipJob, stage: JobStage) => void;
  /** What was moved last, in words; null when nothing was. */
  readonly says: string | null;
  readonly putBack: () => void;
}

/** Moves jobs from stage to stage, and the last one back. */
export function useMoves(group: string): Moves {
  const { setStage, undo } = useKeepingActions();
  const [moved, setMoved] = useState<{ readonly jobId: string; readonly says: string } | null>(null);
  const move = useCallback(
    (job: SlipJob, stage: JobStage) => {
      setStage(job.jobId, stage, STAGE_WORDS[stage].says);
      setMoved({ jobId: job.jobId, says: `“${titleOf(job)}” went to “${STAGE_WORDS[stage].heading}”.` });
    },
    [setStage],
  );
  const putBack = useCallback(() => {
    if (moved === null) return;
    undo(moved.jobId);
    setMoved(null);
  }, [moved, undo]);
  useCommands([
    {
      id: 'slip.put-back',
      label: 'Put the slip back that was moved last',
      keys: 'Mod+Z',
      group,
      isPossible: moved !== null,
      run: putBack,
    },
  ]);
  return { move, says: moved?.says ?? null, putBack };
}

/** Says what was moved and offers the way back; stays until the next move. */
export function MovedNote({ moves }: { readonly moves: Moves }) {
  if (moves.says === null) return null;
  return (
    <p className="desk-moved">
      {moves.says}{' '}
      <Button look="plain" onPress={moves.putBack}>
        Put it back
      </Button>
    </p>
  );
}
