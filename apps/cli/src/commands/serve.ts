import { fileURLToPath } from 'node:url';
import { InputError } from '../input-error.js';
import type { Outcome } from '../outcome.js';
import { countFlag, type TypedArguments, textFlag } from '../parse-arguments.js';

const DEFAULT_PORT = 7411;
const HIGHEST_PORT = 65_535;

/** The built page lies beside this program; both src/ and dist/ are two folders below it. */
const PAGE_DIR = fileURLToPath(new URL('../../../workbench/dist', import.meta.url));

/** `gapwright serve [--port N] [--data DIR]`: runs until it is told to stop, then answers what was asked and ends. */
export async function serveCommand({ flags }: TypedArguments): Promise<Outcome> {
  const port = countFlag(flags, 'port') ?? DEFAULT_PORT;
  if (port > HIGHEST_PORT)
    throw new InputError(`--port ${port} is above ${HIGHEST_PORT}. The default is ${DEFAULT_PORT}.`);
  // Only this command needs the server; the others start without it.
  const { defaultDataDir, StartError, startServer } = await import('@gapwright/server');
  const dataDir = textFlag(flags, 'data') ?? defaultDataDir();
  // Asked to stop while it starts, it stops once it has.
  const stopped = untilStopped();
  try {
    const server = await startServer({ dataDir, port, pageDir: PAGE_DIR });
    process.stdout.write(
      `Gapwright answers at ${server.address} - this computer only, since nobody signs in yet.\nIt keeps its data in ${dataDir}. Stop it with Ctrl+C.\n`,
    );
    await stopped;
    await server.close();
  } catch (error) {
    if (error instanceof StartError) throw new InputError(error.message);
    throw error;
  }
  return { exitCode: 0, text: 'Stopped; everything saved is kept.' };
}

/** Resolves when the user or the system asks the program to end. A second time ends it at once. */
function untilStopped(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => resolve());
  });
}
