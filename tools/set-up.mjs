// Installs what is missing: npm packages always, Debian packages for the tests where that is possible.
import { execFileSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './build.mjs';

const lock = join(root, 'package-lock.json');
const installed = join(root, 'node_modules/.package-lock.json');

/** What npm needs to compile the database driver, with the Debian package that brings each. */
const compilers = [
  { file: '/usr/bin/python3', debian: 'python3' },
  { file: '/usr/bin/make', debian: 'make' },
  { file: '/usr/bin/g++', debian: 'g++' },
];

export function installPackages() {
  if (existsSync(installed) && statSync(installed).mtimeMs >= statSync(lock).mtimeMs) return;
  // Where they cannot be installed from here, npm tries all the same: it may find a ready-made driver or another compiler.
  if (canInstall()) install(compilers);
  const npm = process.env.npm_execpath;
  const [command, ...args] = npm ? [process.execPath, npm, 'ci'] : ['npm', 'ci'];
  execFileSync(command, [...args, '--no-audit', '--no-fund'], { cwd: root, stdio: 'inherit' });
}

/** Programs the tests call, with the Debian package that brings each. */
const programs = [
  { file: '/usr/bin/pdftotext', debian: 'poppler-utils' },
  { file: '/usr/bin/chromium', debian: 'chromium' },
];

export function installPrograms() {
  const names = missingOf(programs);
  if (names.length > 0 && !canInstall()) {
    console.error(`The tests need ${names.join(', ')}. Install with: sudo apt-get install ${names.join(' ')}`);
    process.exit(1);
  }
  install(programs);
}

function canInstall() {
  return existsSync('/usr/bin/apt-get') && process.getuid?.() === 0;
}

function missingOf(wanted) {
  return wanted.filter((p) => !existsSync(p.file)).map((p) => p.debian);
}

function install(wanted) {
  const names = missingOf(wanted);
  if (names.length === 0) return;
  const options = { stdio: 'inherit', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
  execFileSync('apt-get', ['update', '-qq'], options);
  execFileSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...names], options);
}
