// npm start: sets up, builds if stale, and starts the workbench with its store. Extra words go to `gapwright serve`,
// e.g. npm start -- --port 7500.
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { build, isStale, root } from './build.mjs';
import { installPackages } from './set-up.mjs';

installPackages();
if (isStale()) await build();
const words = ['serve', ...process.argv.slice(2)];
const server = spawn(process.execPath, [join(root, 'apps/cli/bin/gapwright.js'), ...words], { stdio: 'inherit' });
// Ctrl+C reaches both; the server closes its store and this process follows.
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => server.kill(signal));
server.on('exit', (code, signal) => process.exit(code ?? (signal === null ? 1 : 0)));
