import type { BookKind } from '@gapwright/records';
import { type KeepingActions, makeActions } from '../actions.js';
import { Keeper } from '../keeper.js';
import { MemoryStorage } from '../memory-storage.js';
import type { ServerApi } from '../server-api.js';
import { sha256Of } from '../sha256.js';
import type { StartingBook } from '../starting-books.js';
import type { Storage } from '../storage.js';
import { type LoopTools, syncRound } from '../sync-loop.js';
import type { TabMessage, Tabs } from '../tabs.js';

/** Tabs of one browser in one test. */
export class TestTabs implements Tabs {
  readonly #heard: ((message: TabMessage) => void)[] = [];
  constructor(private readonly browser: TestTabs[] = []) {
    browser.push(this);
  }
  tell(message: TabMessage): void {
    for (const tab of this.browser) if (tab !== this) for (const heard of tab.#heard) heard(message);
  }
  listen(heard: (message: TabMessage) => void): void {
    this.#heard.push(heard);
  }
  alone(): void {}
  close(): void {}
}

export async function testBooks(): Promise<StartingBook[]> {
  const kinds: BookKind[] = ['shop-book', 'technology-book', 'post'];
  return Promise.all(
    kinds.map(async (kind) => ({ kind, text: `{"of":"${kind}"}`, sha256: await sha256Of(`{"of":"${kind}"}`) })),
  );
}

/** Ids and times that are the same in every run. */
export class Numbers {
  #count = 0;
  /** Milliseconds the clock moves with every look at it. */
  constructor(
    private readonly node: number,
    readonly stepMs = 60_000,
  ) {}
  newId = (): string => {
    this.#count += 1;
    const tail = this.#count.toString(16).padStart(8, '0');
    return `00000000-0000-4000-8000-${this.node.toString(16).padStart(4, '0')}${tail}`;
  };
  now = (): Date => {
    this.#count += 1;
    return new Date(Date.UTC(2026, 0, 5) + this.#count * this.stepMs);
  };
}

/** One browser of one planner, with its disk, whose rounds the test asks for. */
export class Device {
  readonly #seen = new Set<string>();
  private constructor(
    readonly name: string,
    readonly keeper: Keeper,
    readonly actions: KeepingActions,
    private readonly tools: LoopTools,
  ) {}

  static async open(
    name: string,
    api: ServerApi,
    numbers: Numbers,
    storage: Storage = new MemoryStorage(true),
    tabs: Tabs = new TestTabs(),
  ): Promise<Device> {
    const keeper = await Keeper.open({
      storage,
      tabs,
      startingBooks: await testBooks(),
      deviceName: () => name,
      ...numbers,
      now: numbers.now,
      newId: numbers.newId,
    });
    const tools: LoopTools = {
      api,
      read: (work) => keeper.read(work),
      commit: (work) => keeper.commit(work),
      making: () => keeper.making(),
      startingBooks: keeper.tools.startingBooks,
      isOurStore: async () => true,
      afterRound: async () => undefined,
      report: () => undefined,
    };
    const actions = makeActions({ keeper, api, flush: async () => undefined });
    return new Device(name, keeper, actions, tools);
  }

  round(): Promise<unknown> {
    return syncRound(this.tools, this.#seen);
  }

  /** Waits until everything asked for is on the disk. */
  async settled(): Promise<void> {
    await this.keeper.inLine(async () => undefined);
  }
}
