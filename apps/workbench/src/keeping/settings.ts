import { plainText } from './plain-text.js';

/** What a person set for this browser. */
export interface Settings {
  readonly units: 'mm' | 'inch';
  readonly theme: 'light' | 'dark' | 'system';
  /** Signs revisions until people sign in. */
  readonly deviceName: string;
}

const KEY = 'gapwright-settings';
/** Schema limit of `madeBy`. */
const LONGEST_NAME = 80;

function freshName(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(2));
  return `Device ${[...bytes]
    .map((byte) => byte.toString(16).padStart(2, '0'))
    .join('')
    .toUpperCase()}`;
}

function readSettings(): Settings {
  let stored: Partial<Record<keyof Settings, unknown>> = {};
  try {
    const parsed: unknown = JSON.parse(localStorage.getItem(KEY) ?? '{}');
    if (typeof parsed === 'object' && parsed !== null) stored = parsed;
  } catch {
    // Site data is blocked or the entry is damaged: start from what holds without it.
  }
  const { units, theme, deviceName } = stored;
  return {
    units: units === 'inch' ? 'inch' : 'mm',
    theme: theme === 'light' || theme === 'dark' ? theme : 'system',
    deviceName:
      typeof deviceName === 'string' && deviceName.trim() !== '' ? plainText(deviceName, LONGEST_NAME) : freshName(),
  };
}

/** Settings of this browser, the same in all its tabs. */
export class SettingsStore {
  #settings = readSettings();
  readonly #listeners = new Set<() => void>();

  constructor() {
    // The fresh name has to stay the same after a reload.
    this.#write();
    globalThis.addEventListener?.('storage', (event) => {
      if ((event as StorageEvent).key !== KEY) return;
      this.#settings = readSettings();
      this.#tell();
    });
  }

  get = (): Settings => this.#settings;

  set = (change: Partial<Settings>): void => {
    const next = { ...this.#settings, ...change };
    const name = plainText(next.deviceName.trim(), LONGEST_NAME);
    this.#settings = { ...next, deviceName: name === '' ? this.#settings.deviceName : name };
    this.#write();
    this.#tell();
  };

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  #write(): void {
    try {
      localStorage.setItem(KEY, JSON.stringify(this.#settings));
    } catch {
      // Blocked: the settings hold until the tab is closed.
    }
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}
