// Builds the page and its service worker when their sources are newer than the last build. `--force` builds anyway.
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const workbench = join(root, 'apps/workbench');
const page = join(workbench, 'dist');
/** Built here and then put in place, so that a server never serves half a page. */
const next = join(root, 'node_modules/.cache/gapwright-page');
const stamp = join(root, 'node_modules/.cache/gapwright-page-build');

/** What the first load may weigh, bytes of gzipped script. */
const MOST_FIRST_SCRIPT = 200_000;
/** Larger files would be left out of the offline copy without a word. */
const MOST_KEPT_FILE = 16 * 1024 * 1024;

/** Everything that goes into the page; tests and what only the server runs do not. */
function sources() {
  const rooms = readdirSync(join(root, 'packages'))
    .filter((room) => !['store', 'hand-over', 'papers'].includes(room))
    .map((room) => join(root, 'packages', room, 'src'));
  const own = ['src', 'public', 'index.html', 'vite.config.ts', 'package.json'].map((name) => join(workbench, name));
  const shared = ['shop', 'demo', 'package-lock.json', 'tools/build-page.mjs'].map((name) => join(root, name));
  return [...own, ...rooms, ...shared].filter((path) => existsSync(path));
}

function newestMs(path) {
  const found = statSync(path);
  if (!found.isDirectory()) return /\.test\.tsx?$/.test(path) ? 0 : found.mtimeMs;
  // A folder's own time tells of files that were removed.
  return readdirSync(path).reduce((newest, name) => Math.max(newest, newestMs(join(path, name))), found.mtimeMs);
}

export function isPageStale() {
  if (!existsSync(stamp) || ['index.html', 'sw.js'].some((name) => !existsSync(join(page, name)))) return true;
  return Math.max(...sources().map(newestMs)) > statSync(stamp).mtimeMs;
}

/** Scripts the browser needs before it shows anything: the entry and what it imports at once. */
function firstScripts() {
  const manifest = JSON.parse(readFileSync(join(next, '.vite/manifest.json'), 'utf8'));
  const scripts = new Set();
  const add = (key) => {
    const chunk = manifest[key];
    if (scripts.has(chunk.file)) return;
    scripts.add(chunk.file);
    for (const imported of chunk.imports ?? []) add(imported);
  };
  for (const [key, chunk] of Object.entries(manifest)) if (chunk.isEntry) add(key);
  return [...scripts];
}

function weigh() {
  const sizes = firstScripts().map((file) => ({ file, bytes: gzipSync(readFileSync(join(next, file))).byteLength }));
  const total = sizes.reduce((sum, { bytes }) => sum + bytes, 0);
  for (const { file, bytes } of sizes) console.log(`  ${(bytes / 1000).toFixed(1).padStart(7)} kB  ${file}`);
  console.log(
    `  ${(total / 1000).toFixed(1).padStart(7)} kB  gzipped script in the first load (at most ${MOST_FIRST_SCRIPT / 1000})`,
  );
  if (total > MOST_FIRST_SCRIPT) {
    throw new Error(`The first load has ${total} bytes of gzipped script. Load the largest part later (import()).`);
  }
}

async function buildServiceWorker() {
  const { generateSW } = await import('workbox-build');
  const { count, size, warnings } = await generateSW({
    swDest: join(next, 'sw.js'),
    globDirectory: next,
    globPatterns: ['**/*.{html,js,css,svg,png,ico,woff2,otf,ttf,json,dxf,csv,wasm,webmanifest}'],
    globIgnores: ['.vite/**', 'sw.js', '**/*.map'],
    maximumFileSizeToCacheInBytes: MOST_KEPT_FILE,
    // Names below assets/ change with their content, so they need no revision of their own.
    dontCacheBustURLsMatching: /^assets\//,
    // Every place is the same document. The API is never answered from the copy.
    navigateFallback: '/index.html',
    navigateFallbackDenylist: [/^\/api\//],
    // A new version waits until the page asks for it, so that no edit is cut off.
    skipWaiting: false,
    // The first one takes over at once: after the first load the page works without the server.
    clientsClaim: true,
    cleanupOutdatedCaches: true,
    inlineWorkboxRuntime: true,
    sourcemap: false,
  });
  if (warnings.length > 0) throw new Error(`The service worker is not whole: ${warnings.join('; ')}`);
  console.log(`  ${(size / 1000).toFixed(1).padStart(7)} kB  kept for work without the server (${count} files)`);
}

export async function buildPage() {
  const startedAt = new Date();
  const { build } = await import('vite');
  await build({ configFile: join(workbench, 'vite.config.ts'), logLevel: 'warn', build: { outDir: next } });
  await buildServiceWorker();
  weigh();
  rmSync(page, { recursive: true, force: true });
  renameSync(next, page);
  mkdirSync(dirname(stamp), { recursive: true });
  // What changes while it builds counts as newer.
  writeFileSync(stamp, `${startedAt.toISOString()}\n`);
  utimesSync(stamp, startedAt, startedAt);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  if (process.argv.includes('--force') || isPageStale()) await buildPage();
  else console.log('The page is up to date.');
}
