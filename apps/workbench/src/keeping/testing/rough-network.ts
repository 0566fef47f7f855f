import { type ServerApi, ServerAway } from '../server-api.js';
import type { FakeServer } from './fake-server.js';

/** What happens to one request. */
export type Fate = 'arrives' | 'lost' | 'answer lost' | 'late' | 'old answer' | 'twice';
export const FATES: readonly Fate[] = ['arrives', 'lost', 'answer lost', 'late', 'old answer', 'twice'];

const copy = <T>(value: T): T => structuredClone(value);

/** A network between devices and a server that loses, delays, repeats and mixes up what it carries. */
export class RoughNetwork {
  /** Requests on their way that will arrive at some time. */
  readonly #late: (() => Promise<unknown>)[] = [];
  readonly #fates: Fate[] = [];

  constructor(readonly server: FakeServer) {}

  /** What happens to the next requests; after these every request arrives. */
  meet(fates: readonly Fate[]): void {
    this.#fates.push(...fates);
  }

  /** The oldest late request arrives; its answer reaches nobody. */
  async deliverLate(): Promise<void> {
    await this.#late
      .shift()?.()
      .catch(() => undefined);
  }

  async heal(): Promise<void> {
    this.#fates.length = 0;
    while (this.#late.length > 0) await this.deliverLate();
  }

  /** One device's way to the server. */
  api(): ServerApi {
    const old = new Map<string, unknown>();
    const call = async <T>(name: string, request: () => Promise<T>): Promise<T> => {
      const fate = this.#fates.shift() ?? 'arrives';
      if (fate === 'lost') throw new ServerAway('lost on the way');
      if (fate === 'late') {
        this.#late.push(request);
        throw new ServerAway('took too long');
      }
      const earlier = old.get(name);
      if (fate === 'old answer' && earlier !== undefined) return copy(earlier as T);
      if (fate === 'twice') await request();
      const answer = await request();
      old.set(name, copy(answer));
      if (fate === 'answer lost') throw new ServerAway('the answer was lost');
      return copy(answer);
    };
    const { server } = this;
    return {
      health: () => call('health', () => server.health()),
      changes: (after) => call('changes', () => server.changes(after)),
      history: (jobId) => call(`history ${jobId}`, () => server.history(jobId)),
      putRevision: (sent) => {
        const revision = copy(sent);
        return call(`revision ${sent.id}`, () => server.putRevision(revision));
      },
      putFile: (sha256, bytes) => call(`file ${sha256}`, () => server.putFile(sha256, bytes)),
      fileBytes: (sha256) => call(`bytes ${sha256}`, () => server.fileBytes(sha256)),
      putBook: (version, text) => call(`book ${version.sha256} ${version.madeAt}`, () => server.putBook(version, text)),
      putBurn: (record) => call(`burn ${record.id}`, () => server.putBurn(record)),
      makeOffer: () => server.makeOffer(),
      paperPdf: () => server.paperPdf(),
      paperPages: () => server.paperPages(),
      listen: () => server.listen(),
    };
  }
}
