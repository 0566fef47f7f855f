import { readdirSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import type { BenchLine } from './bench-line.js';

/**
 * Runs every bench module beside this file and prints one JSON line per figure. `--quick` keeps it under a minute;
 * `--page` also writes docs/benchmarks.md. Names choose modules.
 */
const quick = process.argv.includes('--quick');
const only = process.argv.slice(2).filter((a) => !a.startsWith('--'));
const here = new URL('.', import.meta.url);
const modules = readdirSync(here)
  .filter((f) => f.endsWith('.js') && f !== 'main.js' && f !== 'bench-line.js')
  .map((f) => f.slice(0, -3))
  .filter((name) => only.length === 0 || only.includes(name))
  .sort();
const lines: BenchLine[] = [];
for (const name of modules) {
  const bench = (await import(new URL(`${name}.js`, here).href)) as { run(quick: boolean): Promise<BenchLine[]> };
  for (const line of await bench.run(quick)) {
    lines.push(line);
    console.log(JSON.stringify(line));
  }
}
if (process.argv.includes('--page')) {
  writeFileSync(new URL('../../../docs/benchmarks.md', import.meta.url), page(lines));
}

function page(measured: readonly BenchLine[]): string {
  const short = (value: number): string => String(Number(value.toPrecision(3)));
  const cell = (text: string): string => text.replaceAll('|', '\\|');
  return [
    '# Benchmarks',
    '',
    `Written by \`npm run bench --${quick ? ' --quick' : ''} --page\` on ${cpus()[0]?.model.trim() ?? 'an unknown processor'}, ${cpus().length} cores, Node ${process.version}.`,
    'Each line compares ours with a public library on the same input in the same run, after checking that both gave the same',
    'answer. The ratio says how many times ours is better. Absolute figures are one machine on one day.',
    '',
    '| what | ours | theirs | unit | ratio | input | agreement |',
    '|---|---|---|---|---|---|---|',
    ...measured.map(
      (l) =>
        `| ${cell(l.name)} | ${short(l.ours)} | ${short(l.theirs)} | ${cell(l.unit)} | ${short(l.ratio)} | ${cell(l.input)} | ${cell(l.agreement)} |`,
    ),
    '',
  ].join('\n');
}
