import { Button } from '../../kit/index.js';
import { percentText } from '../../units/index.js';
import type { ColumnState } from './use-column.js';

/** What is being worked out, how far it is, and the way to stop it. Takes the same room when it is quiet. */
export function StateLine({ state }: { readonly state: ColumnState }) {
  const { working, progress, isStale, isStopped, fault } = state;
  return (
    <div className="sheet-state no-print">
      <p role="status">
        {fault !== null ? (
          <span className="sheet-fault">{fault} Load the page again; the job itself is safe.</span>
        ) : working !== null ? (
          `${isStale ? 'Figures from before your last change; ' : ''}${working} …${progress === null ? '' : ` ${percentText(progress)}`}`
        ) : isStopped ? (
          'Stopped. What stands here may not belong to the job as it is now.'
        ) : null}
      </p>
      {working !== null ? (
        <>
          <progress className="sheet-progress" max={1} {...(progress === null ? {} : { value: progress })}>
            {working}
          </progress>
          <Button look="plain" onPress={state.stop}>
            Stop
          </Button>
        </>
      ) : isStopped ? (
        <Button look="plain" onPress={state.goOn}>
          Work it out
        </Button>
      ) : null}
    </div>
  );
}
