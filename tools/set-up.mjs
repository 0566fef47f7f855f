// Installs what is missing: npm packages always, Debian packages for the tests where that is possible.
import { execFileSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './build.mjs';

const lock = join(root, 'package-lock.json');
const installed = join(root, 'node_modules/.package-lock.json');

export function installPackages() {
  if (existsSync(installed) && statSync(installed).mtimeMs >= statSync(lock).mtimeMs) return;
  const npm = process.env.npm_execpath;
  const [command, ...args] = npm ? [process.execPath, npm, 'ci'] : ['npm', 'ci'];
  execFileSync(command, [...args, '--no-audit', '--no-fund'], { cwd: root, stdio: 'inherit' });
}

/** Programs the tests call, with the Debian package that brings each. */
const programs = [{ file: '/usr/bin/pdftotext', debian: 'poppler-utils' }];

export function installPrograms() {
  const missing = programs.filter((p) => !existsSync(p.file));
  if (missing.length === 0) return;
  const names = missing.map((p) => p.debian);
  const canInstall = existsSync('/usr/bin/apt-get') && process.getuid?.() === 0;
  if (!canInstall) {
    console.error(`The tests need ${names.join(', ')}. Install with: sudo apt-get install ${names.join(' ')}`);
    process.exit(1);
  }
  const options = { stdio: 'inherit', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
  execFileSync('apt-get', ['update', '-qq'], options);
  execFileSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...names], options);
}
