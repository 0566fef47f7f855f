/** What the state of keeping is told from. */
export interface KeepingState {
  readonly server: 'connected' | 'away' | 'starting';
  /** Things not safe anywhere yet, and things only this device has. */
  readonly saving: number;
  readonly waiting: number;
  readonly conflicts: number;
}

export interface KeepingWords {
  readonly text: string;
  /** A second line, where there is more to know. */
  readonly more: string | null;
  readonly needsYou: boolean;
}

function things(count: number): string {
  return count === 1 ? '1 change waits' : `${count} changes wait`;
}

/** The state of keeping in words, worst first. */
export function keepingWords({ server, saving, waiting, conflicts }: KeepingState): KeepingWords {
  if (conflicts > 0) {
    const jobs = conflicts === 1 ? '1 job was' : `${conflicts} jobs were`;
    return { text: `${jobs} changed on two devices`, more: 'both versions are kept', needsYou: true };
  }
  if (saving > 0) return { text: 'Saving …', more: null, needsYou: false };
  if (waiting > 0)
    return {
      text: 'Kept on this device',
      more: server === 'connected' ? `${things(waiting)} to be sent` : `${things(waiting)} for the server`,
      needsYou: false,
    };
  if (server === 'away') return { text: 'Saved', more: 'server away; you can go on', needsYou: false };
  if (server === 'starting') return { text: 'Looking for the server …', more: null, needsYou: false };
  return { text: 'Saved', more: null, needsYou: false };
}
