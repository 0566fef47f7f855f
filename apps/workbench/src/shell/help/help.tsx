import './help.css';
import { useState } from 'react';
import { useSettings } from '../../keeping/index.js';
import { SheetDialog } from '../../kit/dialog.js';
import { TextEntry } from '../../kit/entries.js';
import { type Command, useAllCommands } from '../commands.js';
import { plainKeysOn, setPlainKeys } from '../key-listener.js';
import { keyCaps } from '../keys.js';
import { PLACES, type PlaceId } from '../places.js';
import { isMac } from '../system.js';
import { HELP_LEAVES } from './leaves.js';

function KeyList({ commands }: { readonly commands: readonly Command[] }) {
  return (
    <dl className="shell-keys">
      {commands.map((c) => (
        <div key={c.id}>
          <dt>
            {keyCaps(c.keys!, isMac).map((cap, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: a sequence may hold the same key twice.
              <kbd key={i}>{cap}</kbd>
            ))}
          </dt>
          <dd>{c.label}</dd>
        </div>
      ))}
    </dl>
  );
}

function ThisDevice() {
  const [settings, setSettings] = useSettings();
  const [plain, setPlain] = useState(plainKeysOn);
  return (
    <section className="shell-device">
      <h3>This device</h3>
      <TextEntry
        label="Name that signs changes made here"
        value={settings.deviceName}
        maxLetters={80}
        letters={24}
        onCommit={(deviceName) => setSettings({ deviceName })}
        hint="Nobody signs in yet, so the server answers this computer only."
      />
      <label className="shell-check">
        <input
          type="checkbox"
          checked={plain}
          onChange={(event) => {
            setPlain(event.target.checked);
            setPlainKeys(event.target.checked);
          }}
        />
        Letters and signs act as keys outside of text boxes
      </label>
    </section>
  );
}

/** Help for the place one is in, with its worked examples and the keys that work there. */
export default function Help({ place, onClose }: { readonly place: PlaceId | null; readonly onClose: () => void }) {
  const [shown, setShown] = useState<PlaceId>(place ?? 'desk');
  const withKeys = useAllCommands().filter((c) => c.keys !== undefined);
  const groups = [...new Set(withKeys.map((c) => c.group ?? 'Here'))].sort((a, b) =>
    a === 'Everywhere' ? 1 : b === 'Everywhere' ? -1 : a.localeCompare(b, 'en'),
  );
  const Leaf = HELP_LEAVES[shown];
  return (
    <SheetDialog title="Help" isOpen onClose={onClose} size="wide">
      <div className="shell-help">
        <nav aria-label="Help leaves" className="shell-help-places">
          {PLACES.map((p) => (
            <button
              key={p.id}
              type="button"
              aria-current={p.id === shown ? 'page' : false}
              onClick={() => setShown(p.id)}
            >
              {p.label}
            </button>
          ))}
        </nav>
        <article className="shell-help-leaf">
          <h2>{PLACES.find((p) => p.id === shown)?.label}</h2>
          <p className="shell-help-answers">{PLACES.find((p) => p.id === shown)?.answers}</p>
          <Leaf />
          <p className="shell-help-caution">
            Gapwright advises people who run dangerous machines. The machine maker’s manual, local codes and licensed
            practice come first.
          </p>
        </article>
        <aside className="shell-help-side" aria-label="Keys and device">
          {groups.map((group) => (
            <section key={group}>
              <h3>{group === 'Everywhere' ? 'Keys everywhere' : `Keys: ${group}`}</h3>
              <KeyList commands={withKeys.filter((c) => (c.group ?? 'Here') === group)} />
            </section>
          ))}
          <ThisDevice />
        </aside>
      </div>
    </SheetDialog>
  );
}
