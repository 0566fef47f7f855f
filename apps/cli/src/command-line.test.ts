import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runCommandLine } from './command-line.js';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
const demo = (name: string, file = 'job.json'): string => join(ROOT, 'demo', name, file);
const DEMOS = readdirSync(join(ROOT, 'demo')).filter((name) => !name.includes('.'));

let dir = '';
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), 'gapwright-test-'));
});
afterAll(() => rmSync(dir, { recursive: true, force: true }));

interface Json {
  readonly [field: string]: unknown;
}

async function json(...argv: string[]): Promise<{ exitCode: number; document: Json; stderr: string }> {
  const { exitCode, stdout, stderr } = await runCommandLine([...argv, '--json']);
  return { exitCode, document: JSON.parse(stdout) as Json, stderr };
}

/** The value at a dotted path. */
function at(document: unknown, path: string): unknown {
  return path.split('.').reduce<unknown>((value, key) => (value as Json)[key], document);
}

describe.each(DEMOS)('demo job %s', (name) => {
  test('is planned, proven and priced', async () => {
    const { exitCode, document } = await json('plan', demo(name));
    expect(exitCode).toBe(0);
    expect(at(document, 'proof.verdict')).toBe('pass');
    expect(at(document, 'proof.maxUndercutMm')).toBeLessThan(0.0003);
    expect(at(document, 'proof.maxRestMm')).toBeLessThan(0.0003);
    const price = at(document, 'offer.unitPrice') as Json;
    expect(price.value).toBeGreaterThan(0);
    expect((price.reasons as string[]).length).toBeGreaterThan(0);
  });
});

test.each([...DEMOS.map((name) => ['plan', name]), ...DEMOS.map((name) => ['price', name])])(
  'tables of %s %s fit 100 columns',
  async (command, name) => {
    const { stdout } = await runCommandLine([command!, demo(name!)]);
    for (const line of stdout.split('\n')) expect(line.length, line).toBeLessThanOrEqual(100);
  },
);

describe('the contract of plan --json', () => {
  test('a bare drawing with flags gives every promised field', async () => {
    const { document } = await json(
      ...['plan', demo('blade-punch', 'blade-punch.dxf'), '--material', 'h13', '--height', '20'],
      ...['--ra', '0.8', '--tol', '0.01', '--qty', '3', '--units', 'mm'],
    );
    for (const field of ['kind', 'lengthMm', 'areaMm2', 'minInsideRadiusMm']) {
      expect(at(document, `features.0.${field}`), field).not.toBeUndefined();
    }
    const operations = document.operations as Json[];
    const wire = operations.find((op) => op.process === 'wire')!;
    expect(wire.machineId).toMatch(/^W\d$/);
    for (const pass of wire.passes as Json[]) {
      for (const field of ['offsetMm', 'feedMmPerMin', 'burnMin', 'raUm']) {
        const figure = pass[field] as { value: number; low: number; high: number; unit: string; reasons: string[] };
        expect(figure.low <= figure.value && figure.value <= figure.high, field).toBe(true);
        expect(figure.reasons.length).toBeGreaterThan(0);
        expect(figure.unit).not.toBe('');
      }
    }
    for (const path of [
      'totals.burnMin.value',
      'totals.touches.value',
      'offer.unitPrice.value',
      'offer.lossRisk.value',
    ]) {
      expect(at(document, path), path).toBeTypeOf('number');
    }
    expect(at(document, 'proof.verdict')).toBe('pass');
  });

  test('every figure opens down to sources and inputs', async () => {
    const { document } = await json('plan', demo('coupling-spline'));
    const figures = document.figures as Record<string, { source: string; inputs?: Record<string, string> }>;
    const sources = document.sources as Record<string, unknown>;
    for (const [id, row] of Object.entries(figures)) {
      expect(sources[row.source], `source of ${id}`).toBeDefined();
      for (const input of Object.values(row.inputs ?? {})) expect(figures[input], `input ${input}`).toBeDefined();
    }
    const seen = JSON.stringify(document.operations).match(/"id":"f\d+"/g) ?? [];
    expect(seen.length).toBeGreaterThan(50);
  });
});

describe('why', () => {
  test('prints the derivation down to stated, published or shop values', async () => {
    const { exitCode, stdout } = await runCommandLine(['why', 'totals.burnMin', demo('blade-die-plate')]);
    expect(exitCode).toBe(0);
    expect(stdout).toContain('Burning time is path length divided by feed.');
    expect(stdout).toContain('[published:');
    expect(stdout).toContain('What the interval comes from:');
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(130);
  });

  test('opens a saved plan as it was', async () => {
    const saved = join(dir, 'plan.json');
    writeFileSync(saved, (await runCommandLine(['plan', demo('blade-die-plate'), '--json'])).stdout);
    const { exitCode, stdout } = await runCommandLine(['why', 'operations.1.passes.0.offsetMm', saved]);
    expect(exitCode).toBe(0);
    expect(stdout).toContain('operations.1.passes.0.offsetMm = ');
  });

  test('a wrong path says what is there', async () => {
    const { exitCode, stderr } = await runCommandLine(['why', 'totals.burn', demo('blade-die-plate')]);
    expect(exitCode).toBe(2);
    expect(stderr).toContain('There is no "burn" at totals; there is burnMin');
  });
});

describe('hand-over and proof of what was handed over', () => {
  test('plan --out writes everything; prove accepts the program and refuses a changed one', async () => {
    const out = join(dir, 'die');
    const planned = await runCommandLine(['plan', demo('blade-die-plate'), '--out', out, '--date', '2026-11-25']);
    expect(planned.exitCode).toBe(0);
    expect(readdirSync(out).sort()).toEqual([
      'blade-die-plate.dxf',
      'job.json',
      'letter.pdf',
      'letter.txt',
      'op20-offset-paths.dxf',
      'op20-picture.svg',
      'op20-set-up-sheet.pdf',
      'op20.nc',
      'quotation.pdf',
      'route-card.pdf',
    ]);
    const drawing = join(out, 'blade-die-plate.dxf');
    const job = join(out, 'job.json');
    const program = join(out, 'op20.nc');
    const good = await json('prove', program, '--against', drawing, '--job', job);
    expect([good.exitCode, good.document.verdict]).toEqual([0, 'pass']);
    // The set-up facts come from the job file; without them the job is planned again.
    const bare = await json('prove', program, '--against', drawing, '--job', demo('blade-die-plate'));
    expect([bare.exitCode, bare.document.verdict]).toEqual([0, 'pass']);

    const text = readFileSync(program, 'utf8');
    const faulty = join(dir, 'faulty.nc');
    writeFileSync(faulty, text.replace('P5 R0.1290', 'P5 R0.1240'));
    const bad = await json('prove', faulty, '--against', drawing, '--job', job);
    expect([bad.exitCode, bad.document.verdict]).toEqual([1, 'fail']);
    expect(bad.document.maxUndercutMm).toBeCloseTo(0.005, 4);

    writeFileSync(faulty, text.replace(/F7\.\d+/, 'F300.'));
    const fast = await json('prove', faulty, '--against', drawing, '--job', job);
    expect(JSON.stringify(fast.document.findings)).toContain('PROOF-FEED-FAST');

    writeFileSync(faulty, text.replace('G42 D1', 'G42 D1 Q7'));
    const unread = await runCommandLine(['prove', faulty, '--against', drawing, '--job', job]);
    expect(unread.exitCode).toBe(2);
    expect(unread.stderr).toMatch(/Line \d+, column \d+/);
  }, 60_000);

  test('two heights of stack give two programs, each proved against its own set-up', async () => {
    const out = join(dir, 'two-heights');
    const planned = await runCommandLine(['plan', demo('blade-die-plate'), '--qty', '3', '--stack', '2', '--out', out]);
    expect(planned.exitCode).toBe(0);
    const files = readdirSync(out);
    for (const name of ['op20.nc', 'op40.nc', 'op20-set-up-sheet.pdf', 'op40-set-up-sheet.pdf'])
      expect(files).toContain(name);
    const drawing = join(out, 'blade-die-plate.dxf');
    const job = join(out, 'job.json');
    const { setUps } = JSON.parse(readFileSync(job, 'utf8'));
    expect([setUps['op20.nc'].heightMm, setUps['op40.nc'].heightMm]).toEqual([48, 24]);
    const bare = join(dir, 'bare.json');
    writeFileSync(bare, JSON.stringify({ ...JSON.parse(readFileSync(job, 'utf8')), setUps: undefined }));
    for (const name of ['op20.nc', 'op40.nc']) {
      for (const facts of [job, bare]) {
        const good = await json('prove', join(out, name), '--against', drawing, '--job', facts);
        expect([good.exitCode, good.document.verdict]).toEqual([0, 'pass']);
      }
    }

    const renamed = join(dir, 'renamed.nc');
    writeFileSync(renamed, readFileSync(join(out, 'op40.nc'), 'utf8'));
    const unknown = await runCommandLine(['prove', renamed, '--against', drawing, '--job', job]);
    expect(unknown.exitCode).toBe(2);
    expect(unknown.stderr).toContain('the set-ups of op20.nc, op40.nc, not of renamed.nc');
  }, 60_000);
});

test('papers say what their numbers rest on: starting values, or burns once the book has learnt', async () => {
  const learnt = join(dir, 'learnt.json');
  expect((await runCommandLine(['learn', join(ROOT, 'demo/burn-log.csv'), '--out', learnt])).exitCode).toBe(0);
  const said = async (...shop: string[]): Promise<string> => {
    const out = join(dir, `standing-${shop.length}`);
    await runCommandLine(['plan', demo('blade-die-plate'), '--out', out, '--date', '2026-11-25', ...shop]);
    return execFileSync('pdftotext', [join(out, 'quotation.pdf'), '-'], { encoding: 'utf8' }).replaceAll(/\s+/g, ' ');
  };
  expect(await said()).toContain('none of this shop’s own burns are in them yet');
  const after = await said('--shop', learnt);
  expect(after).toContain('learnt from this shop’s own burns (Burn log, 160 burns)');
  expect(after).not.toContain('none of this shop’s own burns');
}, 60_000);

describe('price', () => {
  test('offers at quantities with what drives the price', async () => {
    const { exitCode, document } = await json('price', demo('blade-punch'));
    expect(exitCode).toBe(0);
    expect((document.table as Json[]).map((o) => o.quantity)).toEqual([1, 2, 5]);
    const ids = (document.drivers as Json[]).map((d) => d.id);
    for (const id of ['radius', 'tolerance', 'finish', 'quantity']) expect(ids).toContain(id);
  });

  test('a price as flag keeps the quantities of the job file', async () => {
    const job = JSON.parse(readFileSync(demo('blade-punch'), 'utf8')) as Json;
    const drawing = demo('blade-punch', 'blade-punch.dxf');
    const file = write(dir, 'quantities.json', JSON.stringify({ ...job, drawing, offer: { quantities: [3, 7] } }));
    const { document } = await json('price', file, '--price', '900');
    expect((document.table as Json[]).map((o) => o.quantity)).toEqual([2, 3, 7]);
    expect(at(document, 'offer.unitPrice.value')).toBe(900);
  });
});

describe('bad input gives one clear sentence and exit code 2', () => {
  const plan = ['--material', 'D2', '--height', '20', '--ra', '0.8', '--tol', '0.01'];
  const cases: readonly [string, (dir: string) => string[], RegExp][] = [
    ['no such command', () => ['paln', 'x.dxf'], /Did you mean plan\?/],
    ['no such flag', () => ['plan', 'x.dxf', '--heigth', '3'], /Did you mean --height\?/],
    ['no operand', () => ['read'], /takes FILE\.dxf, got nothing/],
    ['no such file', () => ['read', 'nowhere.dxf'], /nowhere\.dxf does not exist/],
    ['a folder', (d) => ['read', d], /is a folder/],
    [
      'decimal comma in a flag',
      () => ['plan', demo('blade-punch', 'blade-punch.dxf'), ...plan, '--recast', '0,5'],
      /Write 0\.5/,
    ],
    [
      'nothing said of the request',
      () => ['plan', demo('blade-punch', 'blade-punch.dxf')],
      /Give --material ID, --height MM/,
    ],
    ['a negative height', () => ['plan', demo('blade-punch'), '--height', '-3'], /heightMm/],
    ['half a level of working', () => ['why', 'totals.burnMin', demo('blade-punch'), '--depth', '0.5'], /whole number/],
    ['an empty quantity', () => ['price', demo('blade-punch'), '--quantities', '1,,2'], /has an empty entry/],
    ['unknown units', () => ['read', demo('blade-punch', 'blade-punch.dxf'), '--units', 'furlong'], /Use one of mm/],
    [
      'a job with a slip',
      (d) => ['plan', write(d, 'job.json', '{"gapwrightJob":1,"drawing":"a.dxf","materiel":"D2"}')],
      /material/,
    ],
    ['a job that is not JSON', (d) => ['plan', write(d, 'x.json', '{')], /is not JSON/],
    ['an empty drawing file', (d) => ['read', write(d, 'empty.dxf', '')], /empty/i],
    [
      'a truncated drawing',
      (d) => ['read', write(d, 'cut.dxf', half(demo('blade-punch', 'blade-punch.dxf')))],
      /it is cut off/,
    ],
    ['a bad number', (d) => ['read', write(d, 'num.dxf', spoiled())], /line \d+/],
    ['a shop book that is none', (d) => ['plan', demo('blade-punch'), '--shop', write(d, 's.json', '{}')], /s\.json/],
    // /proc takes no folders, and says so in a way that sent Node round and round.
    [
      'a folder that cannot be made',
      () => ['plan', demo('blade-punch'), '--out', '/proc/none/out'],
      /cannot be written/,
    ],
    [
      'a day that is none',
      (d) => ['plan', demo('blade-punch'), '--out', join(d, 'o'), '--date', '2026-02-30'],
      /is not a day/,
    ],
  ];
  test.each(cases)('%s', async (_name, argv, message) => {
    const { exitCode, stderr, stdout } = await runCommandLine(argv(dir));
    expect(stderr).toMatch(message);
    expect(exitCode).toBe(2);
    expect(stderr.trim().split('\n')).toHaveLength(1);
    expect(stdout).toBe('');
  });

  test('a contour that crosses itself is a stop problem, exit code 1, with its place', async () => {
    const bowTie =
      '0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\n0\n90\n4\n70\n1\n10\n0\n20\n0\n10\n10\n20\n10\n10\n10\n20\n0\n10\n0\n20\n10\n0\nENDSEC\n0\nEOF\n';
    const { exitCode, document } = await json('read', write(dir, 'bow.dxf', bowTie), '--units', 'mm');
    expect(exitCode).toBe(1);
    const stop = (document.problems as { severity: string; at: { xMm: number; yMm: number } }[]).find(
      (p) => p.severity === 'stop',
    )!;
    expect([stop.at.xMm, stop.at.yMm]).toEqual([5, 5]);
  });

  test('an unknown material is a stop problem that names the known ones', async () => {
    const { exitCode, document } = await json('plan', demo('blade-punch'), '--material', 'unobtainium');
    expect(exitCode).toBe(1);
    expect(JSON.stringify(document.problems)).toContain('unobtainium');
    expect(document.operations).toEqual([]);
  });
});

function write(folder: string, name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

function half(path: string): string {
  const text = readFileSync(path, 'utf8');
  return text.slice(0, text.length / 2);
}

function spoiled(): string {
  return readFileSync(demo('blade-punch', 'blade-punch.dxf'), 'utf8').replace(/\n10\n0\.3\n/, '\n10\n0,3\n');
}
