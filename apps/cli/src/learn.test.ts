import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { jsonSchemas } from '@gapwright/job';
import { parseShopBook } from '@gapwright/process';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { runCommandLine } from './command-line.js';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
const DIR = mkdtempSync(join(tmpdir(), 'gapwright-learn-'));
const BURNS = join(ROOT, 'demo/burn-log.csv');
const PLATES = Array.from({ length: 12 }, (_, k) => [1 + ((k * 5) % 7), 2 * (1 + ((k * 5) % 7)) + 0.1 * (k % 3)]);

function file(name: string, text: string | Uint8Array): string {
  const path = join(DIR, name);
  writeFileSync(path, text);
  return path;
}

function fits(schema: string, stdout: string): void {
  const validate = new Ajv2020({ allErrors: true, strict: false }).compile(jsonSchemas()[schema]!);
  validate(JSON.parse(stdout));
  expect(validate.errors ?? []).toEqual([]);
}

test.each([
  ['comma', ',', (v: number) => `${v}`, ''],
  ['semicolon with decimal comma', ';', (v: number) => `${v}`.replace('.', ','), ''],
  ['tab', '\t', (v: number) => `${v}`, ''],
  ['byte-order mark and quotes', ',', (v: number) => `"${v}"`, '\ufeff'],
])('a file with %s is learnt', async (name, separator, write, mark) => {
  const lines = PLATES.map((row) => row.map(write).join(separator));
  const path = file(`${name}.csv`, `${mark}current (A)${separator}rate\r\n${lines.join('\r\n')}\r\n`);
  const { exitCode, stdout } = await runCommandLine(['learn', path, '--response', 'rate', '--json']);
  expect(exitCode).toBe(0);
  fits('learn', stdout);
  const { inputs, loo, baselines, coverage, warnings } = JSON.parse(stdout);
  expect(inputs).toEqual(['current (A)']);
  expect(loo.crps).toBeLessThan(baselines.mean.crps / 5);
  expect(coverage['80']).toBeGreaterThan(0.5);
  expect(Array.isArray(warnings)).toBe(true);
});

test.each([
  ['empty', '', /is empty/],
  ['bytes', new Uint8Array([1, 0, 2, 0, 255, 254]), /not a text file/],
  ['prose', 'Dear all,\nno numbers here\n', /There is no column "rate"/],
  ['one cell too many', 'a,rate\n1,2\n1,2,3\n', /line 3 has 3 cells, the header has 2/],
  ['decimal commas', 'a,b\n1,5,2,5\n', /Decimal commas need a semicolon/],
  ['text response', 'rate,b\nfast,1\nslow,2\n', /is not numeric, e.g. "fast"/],
  ['no such column', 'a,b\n1,2\n', /There is no column "rate"/],
  ['open quotes', 'a,rate\n"1,2\n3,4\n', /quote/i],
])('%s: one clear error', async (name, text, says) => {
  const { exitCode, stdout, stderr } = await runCommandLine([
    ...['learn', file(`bad ${name}.csv`, text), '--response', 'rate', '--json'],
  ]);
  expect(exitCode).toBe(2);
  expect(stdout).toBe('');
  expect(stderr).toMatch(says);
  expect(stderr.trim().split('\n')).toHaveLength(1);
});

test('a burn log is summed up and written into the next version of the shop book', async () => {
  const out = join(DIR, 'book.json');
  const { exitCode, stdout } = await runCommandLine(['learn', BURNS, '--out', out, '--json']);
  expect(exitCode).toBe(0);
  fits('learn-burns', stdout);
  const document = JSON.parse(stdout);
  expect(document.burns).toBe(160);
  expect(document.after.medianError).toBeLessThan(document.before.medianError / 2);
  expect(document.alarms.map((a: { machine: string }) => a.machine)).toContain('W3');
  const { value } = parseShopBook(JSON.parse(readFileSync(out, 'utf8')));
  expect(value?.version).toBe('2');
  const { stdout: text } = await runCommandLine(['learn', BURNS]);
  expect(text).toContain('Ti-6Al-4V');
});

test('a table that is no burn log needs --response', async () => {
  const { exitCode, stderr } = await runCommandLine(['learn', file('plain.csv', 'a,b\n1,2\n2,3\n')]);
  expect(exitCode).toBe(2);
  expect(stderr).toContain('Give --response COLUMN; columns are: a, b');
});
