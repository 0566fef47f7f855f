import { type Place, type Problem, problem, type Severity } from '@gapwright/base';
import type { SkippedEntities } from './drawing.js';

/** What is noticed while reading: one problem per code however often it occurs, and the entities not taken. */
export class Notes {
  private readonly found = new Map<
    string,
    { severity: Severity; what: string; fix: string; at: Place; count: number }
  >();

  /** Notes a harmless fault; only the first place is kept, with the number of times it occurs. */
  add(code: string, severity: Exclude<Severity, 'stop'>, what: string, fix: string, at: Place): void {
    const known = this.found.get(code);
    if (known === undefined) this.found.set(code, { severity, what, fix, at, count: 1 });
    else known.count++;
  }

  problems(): Problem[] {
    return [...this.found].map(([code, { severity, what, fix, at, count }]) =>
      problem({
        code,
        severity,
        what: count === 1 ? what : `${what} (and ${count - 1} more like it)`,
        fix,
        at,
      }),
    );
  }
}

interface Tally extends SkippedEntities {
  count: number;
}

/** Counts entities not taken by kind, layer and reason. */
export class SkipList {
  private readonly tallies = new Map<string, Tally>();

  add(kind: string, layer: string, reason: string, handle: string | null, position: number, count = 1): void {
    const key = `${kind}\n${layer}\n${reason}`;
    const known = this.tallies.get(key);
    if (known === undefined) this.tallies.set(key, { kind, layer, reason, count, handle, position });
    else known.count += count;
  }

  list(): SkippedEntities[] {
    return [...this.tallies.values()];
  }
}
