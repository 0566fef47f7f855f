import { homedir } from 'node:os';
import { join } from 'node:path';

/** Name of the database in the data directory. */
export const STORE_FILE = 'gapwright.sqlite';

/**
 * Where this user's data belongs by the custom of the system: `$XDG_DATA_HOME/gapwright` or
 * `~/.local/share/gapwright`; on macOS `~/Library/Application Support/gapwright`; on Windows `%LOCALAPPDATA%\gapwright`.
 */
export function defaultDataDir(env: NodeJS.ProcessEnv = process.env, platform = process.platform): string {
  const home = homedir();
  if (platform === 'win32') return join(env.LOCALAPPDATA ?? join(home, 'AppData', 'Local'), 'gapwright');
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'gapwright');
  // The standard says that a relative path there is to be ignored.
  const xdg = env.XDG_DATA_HOME;
  return join(xdg?.startsWith('/') ? xdg : join(home, '.local', 'share'), 'gapwright');
}
