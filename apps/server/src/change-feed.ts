import type { Store } from '@gapwright/store';

/** Another program may write to the same store; it is looked at this often while somebody listens, ms. */
const LOOK_EVERY_MS = 1_000;

/** Tells listeners whenever the store took something, whoever sent it. */
export class ChangeFeed {
  readonly #listeners = new Set<(sequence: number) => void>();
  #timer: NodeJS.Timeout | undefined;
  #told = -1;

  constructor(
    private readonly store: Pick<Store, 'sequence'>,
    private readonly onFault: (error: unknown) => void,
  ) {}

  get listenerCount(): number {
    return this.#listeners.size;
  }

  /** Calls back with each new sequence number; returns a function that stops it. */
  listen(listener: (sequence: number) => void): () => void {
    this.#listeners.add(listener);
    this.#timer ??= setInterval(() => this.look(), LOOK_EVERY_MS).unref();
    return () => {
      this.#listeners.delete(listener);
      if (this.#listeners.size === 0) this.stop();
    };
  }

  /** Looks now, because something was just kept. */
  look(): void {
    if (this.#listeners.size === 0) return;
    this.store
      .sequence()
      .then((sequence) => {
        if (sequence === this.#told) return;
        this.#told = sequence;
        for (const listener of this.#listeners) listener(sequence);
      })
      .catch(this.onFault);
  }

  stop(): void {
    clearInterval(this.#timer);
    this.#timer = undefined;
  }
}
