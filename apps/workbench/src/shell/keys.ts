/** What a key press looks like to the commands; a `KeyboardEvent` is one. */
export interface Press {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
  readonly shiftKey: boolean;
}

/** How long the second key of a sequence may take, ms: slow enough for one finger, short enough to be forgotten. */
export const SEQUENCE_MS = 1200;

/**
 * A press as it is written in a command's keys: `Mod+K`, `Alt+ArrowUp`, `g`, `?`. `Mod` is Ctrl, or Cmd where there is
 * one. Null for a lone modifier.
 */
export function pressName(press: Press): string | null {
  if (['Control', 'Meta', 'Alt', 'Shift', 'AltGraph', 'Dead', 'Unidentified'].includes(press.key)) return null;
  const isLetter = /^\p{L}$/u.test(press.key);
  const withModifier = press.ctrlKey || press.metaKey || press.altKey;
  const parts: string[] = [];
  if (press.ctrlKey || press.metaKey) parts.push('Mod');
  if (press.altKey) parts.push('Alt');
  // A printed sign such as ? already holds its Shift; letters and named keys do not.
  if (press.shiftKey && (press.key.length > 1 || isLetter)) parts.push('Shift');
  const key = press.key === ' ' ? 'Space' : isLetter ? press.key.toLowerCase() : press.key;
  parts.push(withModifier && isLetter ? key.toUpperCase() : key);
  return parts.join('+');
}

/** True when a command's keys begin with a printed sign alone, such as `g d` or `?`; these stay quiet in text boxes. */
export function isPlain(keys: string): boolean {
  return !/^(Mod|Alt)\+|^F\d/.test(keys);
}

/** Keys as shown to people, one entry per key cap group: `Mod+K` is `Ctrl K` or `⌘ K`. */
export function keyCaps(keys: string, isMac: boolean): readonly string[] {
  const words: Readonly<Record<string, string>> = {
    Mod: isMac ? '⌘' : 'Ctrl',
    Alt: isMac ? '⌥' : 'Alt',
    ArrowUp: '↑',
    ArrowDown: '↓',
    ArrowLeft: '←',
    ArrowRight: '→',
  };
  return keys.split(/[ ]|(?<=.)\+/).map((part) => words[part] ?? (part.length === 1 ? part : part));
}

/** Follows presses and says which command's keys are complete. */
export class KeyWatch {
  private pending = '';
  private pendingAtMs = 0;

  /** Returns the keys that are complete with this press, or null. `known` lists the keys of all commands in force. */
  take(press: Press, known: ReadonlySet<string>, nowMs: number): string | null {
    const name = pressName(press);
    if (name === null) return null;
    const isFresh = nowMs - this.pendingAtMs <= SEQUENCE_MS;
    const joined = this.pending !== '' && isFresh ? `${this.pending} ${name}` : null;
    this.pending = '';
    if (joined !== null && known.has(joined)) return joined;
    if (known.has(name)) return name;
    for (const keys of known) {
      if (keys.startsWith(`${name} `)) {
        this.pending = name;
        this.pendingAtMs = nowMs;
        break;
      }
    }
    return null;
  }

  forget(): void {
    this.pending = '';
  }
}
