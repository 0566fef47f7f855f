// npm start: sets up, builds if stale, and runs the demo wire job until the workbench exists.
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { build, isStale, root } from './build.mjs';
import { installPackages } from './set-up.mjs';

installPackages();
if (isStale()) build();
const job = join(root, 'demo/coupling-spline/job.json');
const out = join(root, 'out/coupling-spline');
execFileSync(process.execPath, [join(root, 'apps/cli/bin/gapwright.js'), 'plan', job, '--out', out], {
  cwd: root,
  stdio: 'inherit',
});
