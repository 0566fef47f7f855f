import { useState } from 'react';
import { Button, SheetDialog, TextEntry } from '../kit/index.js';
import type { BookChange } from './book-changes.js';

export interface KeepDialogProps {
  readonly isOpen: boolean;
  readonly onClose: () => void;
  readonly version: string;
  readonly draftVersion: string;
  readonly changes: readonly BookChange[];
  readonly onKeep: (version: string, says: string) => Promise<void>;
}

/** Reads the changes back before they become the book in use. */
export function KeepDialog({ isOpen, onClose, version, draftVersion, changes, onKeep }: KeepDialogProps) {
  const [name, setName] = useState<string | null>(null);
  const [says, setSays] = useState('');
  const [fault, setFault] = useState<string | null>(null);
  const proposed = draftVersion !== version ? draftVersion : next(version);
  return (
    <SheetDialog title="Keep as a new version" isOpen={isOpen} onClose={onClose}>
      <div className="book-form">
        <p>
          Jobs planned from now on use it. Offers made earlier keep the version they were made with, and every version
          can be brought back.
        </p>
        <ChangeList changes={changes} />
        <TextEntry label="Version" value={name ?? proposed} maxLetters={40} onCommit={setName} />
        <TextEntry label="What changed and why" value={says} lines={2} maxLetters={500} onCommit={setSays} />
        <Button
          look="main"
          onPress={() => {
            onKeep(name ?? proposed, says === '' ? summary(changes) : says).then(
              () => setFault(null),
              (error: unknown) => setFault(error instanceof Error ? error.message : String(error)),
            );
          }}
        >
          Keep this version
        </Button>
        {fault === null ? null : (
          <p className="kit-fault" role="alert">
            {fault}
          </p>
        )}
      </div>
    </SheetDialog>
  );
}

export function ChangeList({ changes }: { readonly changes: readonly BookChange[] }) {
  return (
    <ul className="book-changes">
      {changes.map((c) => (
        <li key={`${c.leaf}${c.says}`}>
          <span>{c.leaf}:</span> {c.says}
        </li>
      ))}
    </ul>
  );
}

function summary(changes: readonly BookChange[]): string {
  const [first] = changes;
  const more = changes.length - 1;
  return first === undefined ? 'No change' : `${first.says}${more > 0 ? ` and ${more} more` : ''}`.slice(0, 500);
}

/** `7` becomes `8`, `2.3` becomes `2.4`; a name without a number gets one. */
function next(version: string): string {
  const match = /^(.*?)(\d+)$/.exec(version);
  return match === null ? `${version} 2` : `${match[1]}${Number(match[2]) + 1}`;
}
