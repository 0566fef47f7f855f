import type { Keeping } from './keeping.js';
import type { KeepingSession } from './session.js';

/** A view of keeping that notes which parts its reader reads. */
export class View {
  readonly read = new Map<string, () => unknown>();
  readonly seen = new Map<string, unknown>();
  readonly keeping: Keeping;

  constructor(session: Pick<KeepingSession, 'keeper' | 'actions'>, earlier: View | null) {
    const { keeper, actions } = session;
    const note = <T>(name: string, part: () => T): T => {
      const value = part();
      this.read.set(name, part);
      if (!this.seen.has(name)) this.seen.set(name, value);
      return value;
    };
    // What was read before is likely read again; an effect may read it without rendering.
    for (const [name, part] of earlier?.read ?? []) note(name, part);
    this.keeping = {
      ...actions,
      get server() {
        return note('server', () => keeper.snapshot().server);
      },
      get jobs() {
        return note('jobs', () => keeper.snapshot().jobs);
      },
      get burns() {
        return note('burns', () => keeper.snapshot().burns);
      },
      job: (jobId) => note(`job ${jobId}`, () => keeper.job(jobId)),
      book: (kind) => note(`book ${kind}`, () => keeper.snapshot().books[kind]),
      bookVersions: (kind) => note(`versions ${kind}`, () => keeper.snapshot().versions[kind]),
    };
  }

  isCurrent(): boolean {
    for (const [name, part] of this.read) if (part() !== this.seen.get(name)) return false;
    return true;
  }
}
