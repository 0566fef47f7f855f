import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { datasetSection } from './dataset-report.js';
import { DATASETS } from './datasets.js';
import { shopSection } from './shop-report.js';
import type { Section } from './text.js';

/** Seeds of the simulated shops; `--quick` takes fewer. */
const SEEDS = process.argv.includes('--quick') ? 20 : 200;

const root = join(dirname(fileURLToPath(import.meta.url)), '../../..');
const plotDir = join(root, 'docs/validation');
const sections: Section[] = [...DATASETS.map((d) => datasetSection(root, d)), shopSection(SEEDS)];

rmSync(plotDir, { recursive: true, force: true });
mkdirSync(plotDir, { recursive: true });
const lines = [
  '# Validation of the learning',
  '',
  'Written by `npm run validate`. Every forecast is made before its observation is looked at: leave-one-out or 5-fold on published',
  'data, in time order on simulated shops. Nothing is left out; where a simple baseline is better, the page says so.',
  '',
  'MAE is the mean distance from the median forecast, CRPS the continuous ranked probability score of the whole forecast (smaller is',
  'better), both in the unit of the response. The noise floor is the CRPS of a perfect forecast given the scatter of repeated',
  'settings. Baselines: the mean with its spread, and log-linear least squares with its prediction interval. With n rows the',
  'standard error of an 80 % coverage is 40 %/√n: 7 points for 30 rows, 10 for 15.',
  '',
];
for (const { title, text, plots } of sections) {
  lines.push(`## ${title}`, '', text, '');
  for (const { name, svg } of plots) {
    writeFileSync(join(plotDir, `${name}.svg`), svg);
    lines.push(`![${name}](validation/${name}.svg)`);
  }
  lines.push('');
}
writeFileSync(join(root, 'docs/validation.md'), lines.join('\n'));
console.log(`docs/validation.md written: ${sections.length} sections, ${SEEDS} seeds`);
