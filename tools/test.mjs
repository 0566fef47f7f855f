// npm test: sets up, then runs every check as CI does, and ends with one plain line "N passed, N failed".
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './build.mjs';
import { installPackages, installPrograms } from './set-up.mjs';

installPackages();
installPrograms();
rmSync(join(root, 'reports'), { recursive: true, force: true });
mkdirSync(join(root, 'reports'));

const bin = (name) => join(root, 'node_modules/.bin', name);
const report = join(root, 'reports/vitest.json');
const pageReport = join(root, 'reports/vitest-page.json');
const steps = [
  ['build', process.execPath, ['tools/build.mjs', '--force']],
  ['types', bin('tsc'), ['-p', 'tsconfig.check.json']],
  ['page types', bin('tsc'), ['-p', 'apps/workbench/tsconfig.json']],
  ['lint and format', bin('biome'), ['ci', '--error-on-warnings', '.']],
  ['layers', process.execPath, ['tools/check-layers.mjs']],
  ['unused code', bin('knip'), []],
  ['tests', bin('vitest'), ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`]],
  [
    'page in Chromium',
    bin('vitest'),
    [
      'run',
      '--config',
      'vitest.browser.config.ts',
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${pageReport}`,
    ],
  ],
  ['outside checks page', process.execPath, ['tools/outside-checks.mjs', '--check']],
  ['laws page', process.execPath, ['tools/laws-page.mjs', '--check']],
];

let passed = 0;
let failed = 0;
for (const [name, command, args] of steps) {
  console.log(`\n== ${name}`);
  const started = Date.now();
  const env = { ...process.env, OUTSIDE_CHECKS_FILE: join(root, 'reports/outside-checks.jsonl') };
  const { status } = spawnSync(command, args, { cwd: root, stdio: 'inherit', env });
  console.log(`== ${name}: ${status === 0 ? 'ok' : 'FAILED'} (${((Date.now() - started) / 1000).toFixed(1)} s)`);
  const counted = { tests: report, 'page in Chromium': pageReport }[name];
  if (counted !== undefined) {
    const counts = JSON.parse(readFileSync(counted, 'utf8'));
    passed += counts.numPassedTests;
    failed += counts.numFailedTests;
    if (status !== 0 && counts.numFailedTests === 0) failed += 1;
  } else if (status === 0) passed += 1;
  else failed += 1;
}
console.log(`\n${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
