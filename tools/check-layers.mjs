// Fails when a room imports what is not below it, and when nothing was looked at.
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { root } from './build.mjs';

const run = spawnSync(join(root, 'node_modules/.bin/depcruise'), ['packages', 'apps', '--output-type', 'json'], {
  cwd: root,
  encoding: 'utf8',
  maxBuffer: 1 << 28,
});
if (run.error) throw run.error;
const { summary } = JSON.parse(run.stdout);
for (const v of summary.violations) console.error(`${v.rule.name}: ${v.from} -> ${v.to}`);
const links = summary.totalDependenciesCruised;
console.log(`${summary.totalCruised} modules, ${links} imports, ${summary.violations.length} violations`);
if (summary.totalCruised < 50 || links < 50) {
  console.error('The layer check saw too few modules to mean anything; its configuration is broken.');
  process.exit(1);
}
process.exit(summary.violations.length === 0 ? 0 : 1);
