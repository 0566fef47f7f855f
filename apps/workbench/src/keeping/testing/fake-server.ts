import type {
  BookVersion,
  BurnRecord,
  Changes,
  Health,
  JobHistory,
  JobSummary,
  KeptBookVersion,
  KeptBurnRecord,
  KeptRevision,
  OfferRecord,
  Revision,
  SavedRevision,
} from '@gapwright/records';
import { type ServerApi, ServerRefused } from '../server-api.js';
import { sha256Of } from '../sha256.js';

interface KeptJob {
  headId: string;
  readonly asideIds: Set<string>;
  readonly revisions: Map<string, { revision: Revision; sequence: number }>;
  /** Sequence of the last thing that changed its summary. */
  changedAt: number;
}

const copy = <T>(value: T): T => structuredClone(value);

/** A server in memory that keeps the promises of the API: whole revisions once, heads, asides, books, burns, files. */
export class FakeServer implements ServerApi {
  sequence = 0;
  readonly jobs = new Map<string, KeptJob>();
  readonly files = new Map<string, Uint8Array>();
  readonly books = new Map<string, { version: BookVersion; sequence: number; text: string; tookOver: boolean }>();
  readonly burns = new Map<string, { record: BurnRecord; sequence: number }>();

  constructor(
    readonly storeId: string,
    private readonly pageSize = 1000,
  ) {}

  async health(): Promise<Health> {
    const { storeId, sequence } = this;
    return { program: 'gapwright', version: '0', storeId, sequence, access: 'this computer only' };
  }

  #kept(job: KeptJob, id: string): KeptRevision {
    const found = job.revisions.get(id);
    if (found === undefined) throw new Error(`no revision ${id}`);
    const standing = id === job.headId ? 'head' : job.asideIds.has(id) ? 'aside' : 'past';
    return copy({ ...found.revision, sequence: found.sequence, standing });
  }

  summary(jobId: string): JobSummary {
    const job = this.jobs.get(jobId);
    if (job === undefined) throw new ServerRefused('NO-JOB', `There is no job ${jobId}.`, 404);
    const asides = [...job.asideIds].map((id) => this.#kept(job, id));
    return { jobId, head: this.#kept(job, job.headId), asides, revisionCount: job.revisions.size, offerCount: 0 };
  }

  async putRevision(sent: Revision): Promise<SavedRevision> {
    const revision = copy(sent);
    const { id, jobId, parents, drawing } = revision;
    if (drawing !== null && !this.files.has(drawing.sha256)) {
      throw new ServerRefused('STORE-FILE-UNKNOWN', 'Send the drawing first.', 409);
    }
    let job = this.jobs.get(jobId);
    if (job?.revisions.has(id) !== true) {
      for (const parent of parents) {
        if (job?.revisions.has(parent) !== true)
          throw new ServerRefused('STORE-PARENT-UNKNOWN', 'Send the parents first.', 409);
      }
      this.sequence += 1;
      if (job === undefined) {
        job = { headId: id, asideIds: new Set(), revisions: new Map(), changedAt: this.sequence };
        this.jobs.set(jobId, job);
      } else {
        for (const parent of parents) job.asideIds.delete(parent);
        if (parents.includes(job.headId)) job.headId = id;
        else job.asideIds.add(id);
      }
      job.revisions.set(id, { revision, sequence: this.sequence });
      job.changedAt = this.sequence;
    }
    return { saved: this.#kept(job, id), summary: this.summary(jobId) };
  }

  async history(jobId: string): Promise<JobHistory> {
    const summary = this.summary(jobId);
    const job = this.jobs.get(jobId) as KeptJob;
    const revisions = [...job.revisions.keys()].map((id) => this.#kept(job, id));
    return { summary, revisions: revisions.reverse(), offers: [] };
  }

  async putFile(sha256: string, bytes: Uint8Array): Promise<void> {
    if ((await sha256Of(bytes)) !== sha256) throw new ServerRefused('BAD-FILE', 'The file is damaged.', 400);
    this.files.set(sha256, bytes.slice());
  }

  async fileBytes(sha256: string): Promise<Uint8Array> {
    const bytes = this.files.get(sha256);
    if (bytes !== undefined) return bytes.slice();
    const book = [...this.books.values()].find((kept) => kept.version.sha256 === sha256);
    if (book !== undefined) return new TextEncoder().encode(book.text);
    throw new ServerRefused('NO-FILE', 'There is no such file.', 404);
  }

  #keptBook(key: string): KeptBookVersion {
    const found = this.books.get(key);
    if (found === undefined) throw new Error(`no book ${key}`);
    const { kind } = found.version;
    const current = [...this.books.values()].filter((book) => book.version.kind === kind && book.tookOver).at(-1);
    return copy({ ...found.version, sequence: found.sequence, isCurrent: found === current });
  }

  /** A version made from the one in use comes into use; another is kept beside it. */
  async putBook(version: BookVersion, text: string): Promise<KeptBookVersion> {
    const key = JSON.stringify(version);
    const same = [...this.books].filter(([, book]) => book.version.kind === version.kind);
    const current = same.filter(([, book]) => book.tookOver).at(-1);
    if (!this.books.has(key) && current?.[1].version.sha256 === version.sha256) return this.#keptBook(current[0]);
    if (!this.books.has(key)) {
      if (version.parent !== null && !same.some(([, book]) => book.version.sha256 === version.parent)) {
        throw new ServerRefused('STORE-PARENT-UNKNOWN', 'Send the version it was made from first.', 422);
      }
      this.sequence += 1;
      const tookOver = current === undefined || current[1].version.sha256 === version.parent;
      this.books.set(key, { version: copy(version), sequence: this.sequence, text, tookOver });
    }
    return this.#keptBook(key);
  }

  async putBurn(record: BurnRecord): Promise<KeptBurnRecord> {
    if (!this.burns.has(record.id)) {
      this.sequence += 1;
      this.burns.set(record.id, { record: copy(record), sequence: this.sequence });
    }
    const { sequence } = this.burns.get(record.id) as { sequence: number };
    return { ...copy(record), sequence, isInUse: record.content !== null };
  }

  async changes(after: number): Promise<Changes> {
    const news = [
      ...[...this.jobs].map(([jobId, job]) => ({ at: job.changedAt, is: 'job' as const, id: jobId })),
      ...[...this.books].map(([id, book]) => ({ at: book.sequence, is: 'book' as const, id })),
      ...[...this.burns].map(([id, burn]) => ({ at: burn.sequence, is: 'burn' as const, id })),
    ];
    const later = news.filter((item) => item.at > after).sort((a, b) => a.at - b.at);
    const page = later.slice(0, this.pageSize);
    const more = later.length > page.length;
    return {
      storeId: this.storeId,
      sequence: more ? (page.at(-1)?.at ?? after) : this.sequence,
      jobs: page.filter((item) => item.is === 'job').map((item) => this.summary(item.id)),
      offers: [],
      books: page.filter((item) => item.is === 'book').map((item) => this.#keptBook(item.id)),
      burns: await Promise.all(
        page
          .filter((item) => item.is === 'burn')
          .map((item) => this.putBurn((this.burns.get(item.id) as { record: BurnRecord }).record)),
      ),
      more,
    };
  }

  async makeOffer(): Promise<OfferRecord> {
    throw new ServerRefused('NOT-HERE', 'This double makes no offers.', 400);
  }
  async paperPdf(): Promise<Blob> {
    throw new ServerRefused('NOT-HERE', 'This double makes no papers.', 400);
  }
  async paperPages(): Promise<readonly string[]> {
    throw new ServerRefused('NOT-HERE', 'This double makes no papers.', 400);
  }
  listen(): () => void {
    return () => undefined;
  }
}
