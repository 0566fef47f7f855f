import { SheetDialog } from '../kit/index.js';
import { useAllCommands } from './commands.js';
import { keyCaps } from './keys.js';
import { PLACES, type PlaceId } from './places.js';
import { isMac } from './system.js';

/** Help for the place one is in, with the keys that work there. */
export default function Help({ place, onClose }: { readonly place: PlaceId | null; readonly onClose: () => void }) {
  const commands = useAllCommands().filter((c) => c.keys !== undefined);
  const label = PLACES.find((p) => p.id === place)?.label ?? 'Gapwright';
  return (
    <SheetDialog title={`Help: ${label}`} isOpen onClose={onClose} size="wide">
      <h3>Keys</h3>
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
    </SheetDialog>
  );
}
