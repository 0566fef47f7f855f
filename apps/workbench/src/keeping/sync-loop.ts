import type { ServerApi } from './server-api.js';
import { ServerAway } from './server-api.js';
import { joinAsides, type Refusal, type RoundTools, sendAll, takeAll } from './sync-round.js';

/** Without a stream the server is asked this often. */
const ASK_EVERY_MS = 15_000;
/** Waits after the first, second … round that met no server, up to the longest. */
const FIRST_WAIT_MS = 500;
const LONGEST_WAIT_MS = 8_000;
/** One settling may make another necessary; beyond this the next round goes on. */
const ROUNDS_AT_ONCE = 5;

export interface LoopReport {
  readonly server: 'connected' | 'away';
  readonly refusals: readonly Refusal[];
  /** Why the server counts as away, in its own words where it gave any. */
  readonly says: string | null;
}

export interface LoopTools extends RoundTools {
  readonly api: ServerApi;
  /** Asked before anything is sent. False: this is another store, and the planner has not yet said what to do. */
  isOurStore(): Promise<boolean>;
  /** After each round with the server. */
  afterRound(): Promise<void>;
  report(report: LoopReport): void;
}

/** One round: is it our server, send, take, join; until nothing new comes of it. */
export async function syncRound(tools: LoopTools, seen: Set<string>): Promise<readonly Refusal[]> {
  if (!(await tools.isOurStore())) return [];
  let refusals: readonly Refusal[] = [];
  for (let round = 0; round < ROUNDS_AT_ONCE; round += 1) {
    refusals = await sendAll(tools);
    if (!(await takeAll(tools))) return refusals;
    await joinAsides(tools, seen);
    const waiting = await tools.read((tx) => tx.all('outbox'));
    const refused = new Set(refusals.map((refusal) => refusal.key));
    const held = new Set(refusals.map((refusal) => refusal.jobId));
    if (waiting.every((row) => refused.has(row.key) || (row.jobId !== null && held.has(row.jobId)))) break;
  }
  await tools.afterRound();
  return refusals;
}

/** Keeps this device and the server together until it is stopped. */
export class SyncLoop {
  #wake: (() => void) | null = null;
  #isWoken = false;
  #failures = 0;
  readonly #seen = new Set<string>();

  constructor(private readonly tools: LoopTools) {}

  /** Something changed here (`soft`: waits out a back-off) or the server was heard (`hard`: at once). */
  wake(how: 'soft' | 'hard'): void {
    if (how === 'soft' && this.#failures > 0) return;
    this.#isWoken = true;
    this.#wake?.();
  }

  async run(signal: AbortSignal): Promise<void> {
    const stopListening = this.tools.api.listen(() => this.wake('hard'));
    signal.addEventListener('abort', () => this.#wake?.());
    try {
      while (!signal.aborted) {
        this.#isWoken = false;
        await this.#wait(await this.#round(), signal);
      }
    } finally {
      stopListening();
    }
  }

  /** Answers how long to wait. */
  async #round(): Promise<number> {
    try {
      const refusals = await syncRound(this.tools, this.#seen);
      this.#failures = 0;
      this.tools.report({ server: 'connected', refusals, says: null });
      return ASK_EVERY_MS;
    } catch (error) {
      this.#failures += 1;
      const says = error instanceof Error ? error.message : String(error);
      this.tools.report({ server: 'away', refusals: [], says });
      if (!(error instanceof ServerAway)) console.error('Keeping met an error and tries again', error);
      return Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (this.#failures - 1));
    }
  }

  #wait(ms: number, signal: AbortSignal): Promise<void> {
    if (this.#isWoken || signal.aborted) return Promise.resolve();
    return new Promise((resolve) => {
      const timer = setTimeout(end, ms);
      const wakeUp = end;
      this.#wake = wakeUp;
      function end(): void {
        clearTimeout(timer);
        resolve();
      }
    });
  }
}
