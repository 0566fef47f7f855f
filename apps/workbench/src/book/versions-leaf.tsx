import type { BookKind } from '@gapwright/records';
import { useState } from 'react';
import { type HeldBook, useKeeping } from '../keeping/index.js';
import { Button, downloadJson, Mark } from '../kit/index.js';
import { type BookChange, bookChanges } from './book-changes.js';
import { ChangeList } from './keep-dialog.js';

export interface VersionsLeafProps {
  readonly kind: BookKind;
  readonly current: HeldBook;
  /** Puts an earlier version into the draft. */
  readonly onUse: (json: unknown) => void;
}

/** Every version there ever was: compare it with the one in use, export it, bring it back. */
export function VersionsLeaf({ kind, current, onUse }: VersionsLeafProps) {
  const keeping = useKeeping();
  const versions = keeping.bookVersions(kind);
  const [compared, setCompared] = useState<{ readonly sha256: string; readonly changes: readonly BookChange[] } | null>(
    null,
  );
  const [fault, setFault] = useState<string | null>(null);
  const withJson = (sha256: string, act: (json: unknown) => void): void => {
    keeping.bookJson(sha256).then(
      (json) => {
        setFault(null);
        act(json);
      },
      (error: unknown) => setFault(error instanceof Error ? error.message : String(error)),
    );
  };
  return (
    <>
      <h2>Versions</h2>
      <p>Nothing is ever overwritten. A version brought back becomes a draft, and keeping it makes a new version.</p>
      {fault === null ? null : (
        <p className="kit-fault" role="alert">
          {fault}
        </p>
      )}
      <table className="book-versions">
        <thead>
          <tr>
            <th scope="col">Made</th>
            <th scope="col">By</th>
            <th scope="col">What changed</th>
            <th scope="col">
              <span className="visually-hidden">What to do with it</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {versions.map((v) => (
            <tr key={v.sha256}>
              <td>
                {new Date(v.madeAt).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' })}
                {v.sha256 === current.sha256 ? (
                  <div>
                    <Mark kind="proven">In use</Mark>
                  </div>
                ) : null}
              </td>
              <td>{v.madeBy}</td>
              <td>
                {v.says}
                {compared?.sha256 === v.sha256 ? (
                  compared.changes.length === 0 ? (
                    <p>The same as the version in use.</p>
                  ) : (
                    <>
                      <h3>From this version to the one in use</h3>
                      <ChangeList changes={compared.changes} />
                    </>
                  )
                ) : null}
              </td>
              <td>
                {v.sha256 === current.sha256 ? null : (
                  <>
                    <Button
                      look="plain"
                      onPress={() =>
                        withJson(v.sha256, (json) =>
                          setCompared({ sha256: v.sha256, changes: bookChanges(json, current.json) }),
                        )
                      }
                    >
                      Compare
                    </Button>{' '}
                    <Button look="plain" onPress={() => withJson(v.sha256, onUse)}>
                      Bring back
                    </Button>{' '}
                  </>
                )}
                <Button
                  look="plain"
                  onPress={() =>
                    withJson(v.sha256, (json) => downloadJson(json, `${kind}-${v.sha256.slice(0, 8)}.json`))
                  }
                >
                  Export
                </Button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {versions.length === 0 ? <p>Only the starting book so far; the first version kept will stand here.</p> : null}
    </>
  );
}
