import { plainText } from './plain-text.js';

const KEY = 'gapwright-device-name';
/** Schema limit of `madeBy`. */
const LONGEST_NAME = 80;

function freshName(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(2));
  const digits = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return `Device ${digits.toUpperCase()}`;
}

/** The name that signs revisions until people sign in; the same in all tabs of this browser. */
export class DeviceName {
  #name = this.#read();
  readonly #listeners = new Set<() => void>();

  constructor() {
    // A fresh name has to be the same after a reload.
    this.#write();
    globalThis.addEventListener?.('storage', (event) => {
      if ((event as StorageEvent).key !== KEY) return;
      this.#name = this.#read();
      this.#tell();
    });
  }

  get = (): string => this.#name;

  /** An empty name changes nothing. */
  set = (name: string): void => {
    const next = plainText(name.trim(), LONGEST_NAME);
    if (next === '' || next === this.#name) return;
    this.#name = next;
    this.#write();
    this.#tell();
  };

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  #read(): string {
    try {
      const name = plainText((localStorage.getItem(KEY) ?? '').trim(), LONGEST_NAME);
      if (name !== '') return name;
    } catch {
      // Site data is blocked: the name holds until the tab is closed.
    }
    return freshName();
  }

  #write(): void {
    try {
      localStorage.setItem(KEY, this.#name);
    } catch {
      // As above.
    }
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}
