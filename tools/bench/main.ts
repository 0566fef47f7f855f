import { readdirSync } from 'node:fs';
import type { BenchLine } from './bench-line.js';

/** Runs every bench module beside this file and prints one JSON line per figure. `--quick` keeps it under a minute. */
const quick = process.argv.includes('--quick');
const only = process.argv.slice(2).filter((a) => !a.startsWith('--'));
const here = new URL('.', import.meta.url);
const modules = readdirSync(here)
  .filter((f) => f.endsWith('.js') && f !== 'main.js' && f !== 'bench-line.js')
  .map((f) => f.slice(0, -3))
  .filter((name) => only.length === 0 || only.includes(name))
  .sort();
for (const name of modules) {
  const bench = (await import(new URL(`${name}.js`, here).href)) as { run(quick: boolean): Promise<BenchLine[]> };
  for (const line of await bench.run(quick)) console.log(JSON.stringify(line));
}
