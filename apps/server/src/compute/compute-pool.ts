import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Piscina } from 'piscina';
import { ApiFault } from '../api-fault.js';
import type { Computed, ComputeTask } from './compute-task.js';

/** An unused worker is let go after this long; starting one takes about a second, ms. */
const IDLE_MS = 60_000;

/** More waiting than this would not be served within the time limit anyway. */
const MOST_WAITING = 16;

/** Makes papers and offers in worker threads, with a time limit; ends the work when nobody waits for it any more. */
export class ComputePool {
  readonly #pool: Piscina;

  constructor(private readonly limitMs: number) {
    this.#pool = new Piscina({
      filename: workerFile(),
      minThreads: 0,
      // One core stays free to answer.
      maxThreads: Math.max(1, Math.min(4, availableParallelism() - 1)),
      idleTimeout: IDLE_MS,
      maxQueue: MOST_WAITING,
      // Flags of the starting process are none of the worker's business.
      execArgv: [],
    });
  }

  /** `gone` ends the work. Throws an {@link ApiFault} when it takes too long or too much waits already. */
  async run<T extends ComputeTask>(task: T, gone: AbortSignal): Promise<Computed[T['makes']]> {
    if (this.#pool.queueSize >= MOST_WAITING) {
      throw new ApiFault(503, 'COMPUTE-BUSY', 'Too many papers are being made. Try again in a moment.');
    }
    const tooLong = AbortSignal.timeout(this.limitMs);
    try {
      return await this.#pool.run(task, { signal: AbortSignal.any([gone, tooLong]) });
    } catch (error) {
      if (gone.aborted) throw new ApiFault(499, 'COMPUTE-CANCELLED', 'The work was cancelled.');
      if (tooLong.aborted) {
        throw new ApiFault(
          503,
          'COMPUTE-TOO-LONG',
          `The job was not through after ${Math.round(this.limitMs / 1000)} s. Simplify the drawing or ask for fewer quantities.`,
        );
      }
      throw error;
    }
  }

  /** Ends what still runs: its answer has nobody to go to. */
  async close(): Promise<void> {
    await this.#pool.destroy();
  }
}

/** Threads run the built program; the tests run the sources beside it. */
function workerFile(): string {
  const here = fileURLToPath(new URL('./compute-worker.js', import.meta.url));
  return existsSync(here) ? here : fileURLToPath(new URL('../../dist/compute/compute-worker.js', import.meta.url));
}
