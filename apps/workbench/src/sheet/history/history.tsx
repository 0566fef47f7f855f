import type { DraftJob } from '@gapwright/job';
import type { JobHistory, KeptRevision } from '@gapwright/records';
import { useEffect, useState } from 'react';
import { useKeepingActions } from '../../keeping/index.js';
import { Button } from '../../kit/index.js';
import { changeBetween, fieldLabel, fieldWords } from '../requirements/draft-fields.js';
import { madeWords } from './conflict.js';

interface HistoryProps {
  readonly jobId: string;
  /** Changes when the job does, so that the list is fetched again. */
  readonly headId: string;
  readonly draft: DraftJob;
  readonly onClose: () => void;
}

/** All states of the job, newest first; each can be compared with now and brought back. */
export function History({ jobId, headId, draft, onClose }: HistoryProps) {
  const { history, restore } = useKeepingActions();
  const [found, setFound] = useState<JobHistory | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [openId, setOpenId] = useState<string | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new head means a longer history
  useEffect(() => {
    let isHere = true;
    history(jobId).then(
      (h) => {
        if (!isHere) return;
        setFound(h);
        setFault(null);
      },
      (error: unknown) => isHere && setFault(error instanceof Error ? error.message : String(error)),
    );
    return () => {
      isHere = false;
    };
  }, [history, jobId, headId]);
  if (fault !== null) return <p role="alert">The history cannot be shown: {fault}</p>;
  if (found === null) return <p role="status">Fetching the history …</p>;
  return (
    <ol className="sheet-history">
      {found.revisions.map((r) => (
        <li key={r.id}>
          <div className="sheet-history-line">
            <span className="sheet-soft">{madeWords(r.madeAt, r.madeBy)}</span>
            <span>{r.says}</span>
            {r.id === headId ? (
              <span className="sheet-soft">the job as it is</span>
            ) : (
              <Button
                look="plain"
                aria-expanded={openId === r.id}
                onPress={() => setOpenId(openId === r.id ? null : r.id)}
              >
                {openId === r.id ? 'Close' : 'Compare with now'}
              </Button>
            )}
          </div>
          {openId === r.id ? (
            <Comparison
              revision={r}
              draft={draft}
              onBringBack={() => {
                restore(jobId, r.id);
                onClose();
              }}
            />
          ) : null}
        </li>
      ))}
    </ol>
  );
}

function Comparison({
  revision,
  draft,
  onBringBack,
}: {
  readonly revision: KeptRevision;
  readonly draft: DraftJob;
  readonly onBringBack: () => void;
}) {
  const then = revision.content as DraftJob;
  const fields = Object.keys(changeBetween(then, draft)) as (keyof DraftJob)[];
  return (
    <div className="sheet-comparison">
      {fields.length === 0 ? (
        <p>Nothing in it differs from the job as it is; at most its stage or its drawing did.</p>
      ) : (
        <table className="sheet-table">
          <thead>
            <tr>
              <th scope="col">What differs</th>
              <th scope="col">Then</th>
              <th scope="col">Now</th>
            </tr>
          </thead>
          <tbody>
            {fields.map((f) => (
              <tr key={f}>
                <th scope="row">{fieldLabel(f)}</th>
                <td>{fieldWords(f, plain(then[f]))}</td>
                <td>{fieldWords(f, plain(draft[f]))}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <Button onPress={onBringBack}>Bring this state back</Button>
    </div>
  );
}

/** Nested values are compared as they are kept. */
function plain(value: unknown): unknown {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? JSON.stringify(value) : value;
}
