import { useKept } from '../keeping/index.js';
import { Button } from '../kit/button.js';
import { reloadToUpdate, useOffline } from '../offline/index.js';

/** Says when a newer version of the page waits; nothing changes until the planner wants it. */
export function UpdateLine() {
  const { isUpdateWaiting } = useOffline();
  const keeper = useKept((_, all) => all);
  if (!isUpdateWaiting) return null;
  return (
    <p className="shell-update no-print" role="status">
      A newer version of Gapwright is ready. What you did is kept.{' '}
      {/* An empty turn in the line of writes comes after every edit made so far. */}
      <Button look="plain" onPress={() => void reloadToUpdate(keeper.inLine(async () => undefined))}>
        Load it now
      </Button>
    </p>
  );
}
