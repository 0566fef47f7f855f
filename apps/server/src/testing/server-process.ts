import { execFileSync, spawn } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../../..', import.meta.url));
const SERVE = fileURLToPath(new URL('./serve.mjs', import.meta.url));

/** Processes and worker threads run the built program; this brings it up to date. */
export function buildServer(): void {
  execFileSync(process.execPath, [join(ROOT, 'node_modules/typescript/bin/tsc'), '-b', 'apps/server'], { cwd: ROOT });
}

/** The server as a process of its own. */
export async function startProcess(dataDir: string): Promise<{ readonly address: string; kill(): Promise<void> }> {
  const child = spawn(process.execPath, [SERVE, dataDir], { stdio: ['ignore', 'pipe', 'inherit'] });
  const gone = new Promise<void>((resolve) => child.once('close', () => resolve()));
  const address = await new Promise<string>((resolve, reject) => {
    child.stdout.once('data', (chunk: Buffer) => resolve(chunk.toString().trim()));
    child.once('close', (code) => reject(new Error(`the server ended with ${code}`)));
  });
  return {
    address,
    async kill() {
      child.kill('SIGKILL');
      await gone;
    },
  };
}
