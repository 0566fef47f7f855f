import type { StoreName } from './rows.js';

/** What the tabs of one browser tell each other. */
export type TabMessage =
  | { readonly is: 'rows'; readonly keys: readonly { readonly store: StoreName; readonly key: string }[] }
  | { readonly is: 'reload' }
  | { readonly is: 'server'; readonly server: 'connected' | 'away' | 'starting'; readonly refusals: readonly string[] }
  | { readonly is: 'wake' }
  | { readonly is: 'ask' };

/** The other tabs of this browser. */
export interface Tabs {
  tell(message: TabMessage): void;
  listen(heard: (message: TabMessage) => void): void;
  /** Runs `work` in one tab at a time; a waiting tab takes over when that one ends. */
  alone(work: (signal: AbortSignal) => Promise<void>): void;
  close(): void;
}

const NAME = 'gapwright-keeping';

export class BrowserTabs implements Tabs {
  readonly #channel = new BroadcastChannel(NAME);
  readonly #end = new AbortController();

  tell(message: TabMessage): void {
    if (!this.#end.signal.aborted) this.#channel.postMessage(message);
  }

  listen(heard: (message: TabMessage) => void): void {
    this.#channel.addEventListener('message', (event: MessageEvent<TabMessage>) => heard(event.data));
  }

  alone(work: (signal: AbortSignal) => Promise<void>): void {
    const { signal } = this.#end;
    // Without locks (an old browser) every tab sends; ids keep that harmless.
    if (navigator.locks === undefined) void work(signal);
    else {
      navigator.locks
        .request(NAME, { signal }, () => work(signal))
        .catch((error: unknown) => {
          if (!signal.aborted) throw error;
        });
    }
  }

  close(): void {
    this.#end.abort();
    this.#channel.close();
  }
}
