import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runCommandLine } from './command-line.js';

const BIN = fileURLToPath(new URL('../bin/gapwright.js', import.meta.url));

let dir = '';
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), 'gapwright-serve-'));
});
afterAll(() => rmSync(dir, { recursive: true, force: true }));

describe('gapwright serve refuses in one sentence, with exit code 2,', () => {
  const complaint = async (...flags: string[]): Promise<string> => {
    const { exitCode, stdout, stderr } = await runCommandLine(['serve', ...flags]);
    expect({ exitCode, stdout }).toEqual({ exitCode: 2, stdout: '' });
    expect(stderr.trim().split('\n')).toHaveLength(1);
    return stderr;
  };

  test.each(['70000', '-1', '7411.5', 'http'])('port %s', async (port) => {
    expect(await complaint('--port', port, '--data', join(dir, 'unused'))).toContain(`--port ${port}`);
  });

  test('a port that is taken', async () => {
    const other = createServer();
    const port = await new Promise<number>((resolve) => {
      other.listen(0, '127.0.0.1', () => resolve((other.address() as { port: number }).port));
    });
    expect(await complaint('--port', String(port), '--data', join(dir, 'taken'))).toContain(`Port ${port} is taken`);
    await new Promise((resolve) => other.close(resolve));
  });

  test('a data folder that is a file, and one with a foreign database', async () => {
    writeFileSync(join(dir, 'file'), 'text');
    expect(await complaint('--port', '0', '--data', join(dir, 'file', 'in'))).toContain('cannot be made');
    writeFileSync(join(dir, 'gapwright.sqlite'), 'This is no database. '.repeat(100));
    expect(await complaint('--port', '0', '--data', dir)).toContain('is not a Gapwright database');
  });

  test('operands and flags it does not have', async () => {
    expect(await complaint('here')).toContain('takes flags only, got here');
    expect(await complaint('--host', '0.0.0.0')).toContain('has no flag --host');
  });
});

test('help says what is kept where', async () => {
  const { exitCode, stdout } = await runCommandLine(['serve', '--help']);
  expect(exitCode).toBe(0);
  expect(stdout).toContain('gapwright serve [flags]');
  expect(stdout).toContain('~/.local/share/gapwright');
});

test('it says where it answers, answers there, and ends well when told to', async () => {
  const env = { ...process.env, XDG_DATA_HOME: join(dir, 'home') };
  const child = spawn(process.execPath, [BIN, 'serve', '--port', '0'], { env, stdio: ['ignore', 'pipe', 'inherit'] });
  let said = '';
  const address = await new Promise<string>((resolve, reject) => {
    child.stdout.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      const found = /http:\/\/127\.0\.0\.1:\d+/.exec(said);
      if (found !== null) resolve(found[0]);
    });
    child.once('close', () => reject(new Error(`ended: ${said}`)));
  });
  expect(said).toContain('this computer only');
  expect(await (await fetch(`${address}/api/health`)).json()).toMatchObject({ program: 'gapwright' });
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve));
  child.kill('SIGTERM');
  expect(await ended).toBe(0);
  expect(said).toContain(join(dir, 'home', 'gapwright'));
  expect(said).toContain('everything saved is kept');
}, 60_000);
