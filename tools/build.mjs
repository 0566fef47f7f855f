// Builds the workspace and the page when any source is newer than the last build. `--force` builds anyway.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildPage, isPageStale } from './build-page.mjs';

export const root = dirname(dirname(fileURLToPath(import.meta.url)));
const stamp = join(root, 'node_modules/.cache/gapwright-build');

function newestMs(dir) {
  let newest = 0;
  for (const entry of readdirSync(dir, { withFileTypes: true })) {
    if (entry.name === 'node_modules' || entry.name === 'dist') continue;
    const path = join(dir, entry.name);
    if (entry.isDirectory()) newest = Math.max(newest, newestMs(path));
    else if (/\.(ts|tsx|json)$/.test(entry.name)) newest = Math.max(newest, statSync(path).mtimeMs);
  }
  return newest;
}

export function isStale() {
  return areRoomsStale() || isPageStale();
}

function areRoomsStale() {
  if (!existsSync(stamp) || !existsSync(join(root, 'apps/cli/dist/main.js'))) return true;
  const sources = Math.max(newestMs(join(root, 'packages')), newestMs(join(root, 'apps')));
  return sources > statSync(stamp).mtimeMs;
}

export async function build() {
  execFileSync(process.execPath, [join(root, 'node_modules/typescript/bin/tsc'), '-b'], {
    cwd: root,
    stdio: 'inherit',
  });
  mkdirSync(dirname(stamp), { recursive: true });
  writeFileSync(stamp, `${new Date().toISOString()}\n`);
  if (isPageStale()) await buildPage();
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  if (!existsSync(join(root, 'node_modules/typescript'))) {
    console.error('TypeScript is not installed, so nothing is built. Run npm install without --omit=dev.');
  } else if (process.argv.includes('--force') || isStale()) await build();
}
