import type { BookKind } from '@gapwright/records';
import { type KeepingActions, makeActions } from './actions.js';
import { setAside } from './export.js';
import { bookBeside } from './held.js';
import { Keeper, type KeeperTools, type ServerState } from './keeper.js';
import { sendEverything } from './send-again.js';
import type { ServerApi } from './server-api.js';
import { ServerAway } from './server-api.js';
import { sha256Of } from './sha256.js';
import type { Transaction } from './storage.js';
import { type LoopReport, type LoopTools, SyncLoop, syncRound } from './sync-loop.js';

const KINDS: readonly BookKind[] = ['shop-book', 'technology-book', 'post'];
const AWAY = 'The server does not answer. What you did is kept on this device; this needs the server, try again later.';

/** Keeping at work in one tab: the rows, the actions on them, and the loop that keeps them and the server together. */
export class KeepingSession {
  readonly actions: KeepingActions;
  readonly #loop: SyncLoop;
  readonly #tools: LoopTools;
  readonly #seen = new Set<string>();
  #refusals: readonly string[] = [];
  #isLeader = false;

  private constructor(
    readonly keeper: Keeper,
    private readonly api: ServerApi,
  ) {
    this.#tools = {
      api,
      read: (work) => keeper.read(work),
      commit: (work) => keeper.commit(work),
      making: () => keeper.making(),
      startingBooks: keeper.tools.startingBooks,
      isOurStore: () => this.#isOurStore(),
      afterRound: () => this.#afterRound(),
      report: (report) => this.#report(report),
    };
    this.#loop = new SyncLoop(this.#tools);
    this.actions = makeActions({ keeper, api, flush: () => this.#flush() });
    keeper.onWaiting = () => this.#loop.wake('soft');
    keeper.onBooks = () => this.#showBesides();
    this.#showBesides();
  }

  static async open(tools: KeeperTools, api: ServerApi): Promise<KeepingSession> {
    const keeper = await Keeper.open(tools);
    const session = new KeepingSession(keeper, api);
    tools.tabs.listen((message) => {
      if (message.is === 'server' && !session.#isLeader) session.#showServer(message.server, message.refusals);
      if (message.is === 'ask' && session.#isLeader) session.#tellServer();
      if (message.is === 'wake') session.#loop.wake('hard');
    });
    tools.tabs.alone(async (signal) => {
      session.#isLeader = true;
      await session.#loop.run(signal);
    });
    tools.tabs.tell({ is: 'ask' });
    return session;
  }

  /** The network may be back, or the page is looked at again. */
  wake(): void {
    this.#loop.wake('hard');
    this.keeper.tools.tabs.tell({ is: 'wake' });
  }

  /** A round at once, outside the loop's; ids keep two at a time harmless. */
  async #flush(): Promise<void> {
    try {
      await syncRound(this.#tools, this.#seen);
    } catch (error) {
      if (error instanceof ServerAway) throw new ServerAway(AWAY);
      throw error;
    }
  }

  async #isOurStore(): Promise<boolean> {
    const { keeper } = this;
    const health = await this.api.health();
    const store = await keeper.read((tx) => tx.get('meta', 'store'));
    if (store === undefined || store.storeId === null) return true;
    if (store.storeId === health.storeId) {
      keeper.notices.remove('other-store');
      // It was brought back from an earlier copy: what it lost is here.
      if (health.sequence < store.value) {
        await keeper.commit((tx) => sendEverything(tx, health.storeId, false, () => keeper.making()));
      }
      return true;
    }
    const { jobs, burns, books } = keeper.mirror;
    if (jobs.size + burns.size + books.size === 0) {
      await keeper.commit((tx) => tx.put('meta', { key: 'store', storeId: health.storeId, value: 0 }));
      return true;
    }
    this.#askAboutOtherStore(health.storeId);
    return false;
  }

  /** Two stores are never mixed without the planner's word, and nothing is removed either way. */
  #askAboutOtherStore(storeId: string): void {
    const { keeper } = this;
    const answered = async (work: (tx: Transaction) => Promise<void>): Promise<void> => {
      keeper.notices.remove('other-store');
      await keeper.inLine(work);
      await keeper.reload();
      keeper.tools.tabs.tell({ is: 'reload' });
      this.wake();
    };
    const count = keeper.mirror.jobs.size;
    keeper.notices.put({
      id: 'other-store',
      says: `The server answers from another store than before. The ${count} ${count === 1 ? 'job' : 'jobs'} on this device belong to the earlier one; nothing is sent until you choose.`,
      choices: [
        {
          label: 'Send mine to this store',
          choose: () => void answered((tx) => sendEverything(tx, storeId, true, () => keeper.making())),
        },
        {
          label: 'Set mine aside',
          choose: () => void answered((tx) => setAside(tx, storeId, keeper.tools.now())),
        },
      ],
    });
  }

  /** Fetches the texts of books in use. */
  async #afterRound(): Promise<void> {
    const { keeper, api } = this;
    for (const kind of KINDS) {
      const rows = [...keeper.mirror.books.values()].filter((row) => row.kind === kind);
      const current = rows.find((row) => row.kept?.isCurrent === true);
      if (current === undefined || current.text !== null) continue;
      const starting = keeper.tools.startingBooks.find((book) => book.sha256 === current.sha256);
      const text =
        starting?.text ?? new TextDecoder('utf-8', { ignoreBOM: true }).decode(await api.fileBytes(current.sha256));
      if ((await sha256Of(text)) !== current.sha256) throw new ServerAway(`The ${kind} arrived damaged.`);
      await keeper.commit(async (tx) => {
        const row = await tx.get('books', current.key);
        if (row !== undefined) await tx.put('books', { ...row, text });
      });
    }
  }

  /** Says which version of a book was saved beside the one in use, and offers to use it instead. */
  #showBesides(): void {
    const { keeper, actions } = this;
    for (const kind of KINDS) {
      const beside = bookBeside(keeper.mirror, kind);
      if (beside === null) {
        keeper.notices.remove(`beside-${kind}`);
        continue;
      }
      const { madeBy, says: change } = beside.version;
      const name = kind.replace('-', ' ');
      keeper.notices.put({
        id: `beside-${kind}`,
        says: `${madeBy} changed the ${name} ("${change}") while another version came into use. Both are kept; that change is not in use.`,
        choices: [{ label: 'Use it instead', choose: () => void actions.bringBackBook(kind, beside.sha256) }],
      });
    }
  }

  #report(report: LoopReport): void {
    this.#showServer(
      report.server,
      report.refusals.map((refusal) => refusal.says),
    );
    this.#tellServer();
  }

  #showServer(server: ServerState, refusals: readonly string[]): void {
    this.#refusals = refusals;
    this.keeper.setServer(server);
    const { notices } = this.keeper;
    if (refusals.length === 0) notices.remove('refused');
    else {
      const says = `The server did not take ${refusals.length === 1 ? 'one change' : `${refusals.length} changes`}: ${refusals[0]} Nothing is lost; it stays on this device.`;
      notices.put({ id: 'refused', says, choices: [] });
    }
  }

  #tellServer(): void {
    const { server } = this.keeper.snapshot();
    this.keeper.tools.tabs.tell({ is: 'server', server, refusals: this.#refusals });
  }

  close(): void {
    this.keeper.tools.tabs.close();
    this.keeper.storage.close();
  }
}
