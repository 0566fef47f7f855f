import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { jsonSchemas } from '@gapwright/job';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { runCommandLine } from './command-line.js';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
const DIR = join(ROOT, 'docs/schema');
const schemas = jsonSchemas();
const demo = (name: string, file = 'job.json'): string => join(ROOT, 'demo', name, file);

/** Refreshed by `UPDATE=1 npx vitest run apps/cli/src/json-schema.test.ts`; the change is read in review. */
test.each(Object.keys(schemas))('docs/schema/%s.json is the schema in use', (name) => {
  const path = join(DIR, `${name}.json`);
  const text = `${JSON.stringify(schemas[name], null, 2)}\n`;
  if (process.env.UPDATE === '1') {
    mkdirSync(DIR, { recursive: true });
    writeFileSync(path, text);
  }
  expect(existsSync(path) ? readFileSync(path, 'utf8') : 'missing').toBe(text);
});

const printed: readonly [string, string[]][] = [
  ['read', ['read', demo('rotor-pair', 'rotor-pair.dxf')]],
  ['plan', ['plan', demo('blade-die-plate')]],
  ['plan', ['plan', demo('blade-die-plate'), '--material', 'unobtainium']],
  ['price', ['price', demo('blade-die-plate')]],
  ['why', ['why', 'offer.unitPrice', demo('blade-die-plate')]],
];

test.each(printed)('what is printed fits the published schema of %s', async (name, argv) => {
  const { stdout } = await runCommandLine([...argv, '--json']);
  const validate = new Ajv2020({ allErrors: true, strict: false }).compile(schemas[name]!);
  validate(JSON.parse(stdout));
  expect(validate.errors ?? []).toEqual([]);
});

test('every demo job fits the published schema of the job file', () => {
  const validate = new Ajv2020({ strict: false }).compile(schemas.job!);
  validate(JSON.parse(readFileSync(demo('lattice-clip'), 'utf8')));
  expect(validate.errors ?? []).toEqual([]);
});
