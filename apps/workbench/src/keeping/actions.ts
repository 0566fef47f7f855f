import { makeBookActions } from './book-actions.js';
import { makeBurnActions } from './burn-actions.js';
import { makeDeviceActions } from './device-actions.js';
import { makeJobActions } from './job-actions.js';
import type { Keeper } from './keeper.js';
import type { Keeping } from './keeping.js';
import { makePaperActions } from './paper-actions.js';
import type { ServerApi } from './server-api.js';

export interface ActionTools {
  readonly keeper: Keeper;
  readonly api: ServerApi;
  /** Sends what waits; resolves after a round with the server, rejects with a sentence when it is away. */
  flush(): Promise<void>;
}

/** What keeping can do, without what it shows. */
export function makeActions({ keeper, api, flush }: ActionTools) {
  const actions = {
    ...makeJobActions(keeper, api),
    ...makeBookActions(keeper, api),
    ...makeBurnActions(keeper),
    ...makePaperActions(keeper, api, flush),
    ...makeDeviceActions(keeper),
  };
  return actions satisfies Omit<Keeping, 'server' | 'jobs' | 'job' | 'book' | 'bookVersions' | 'burns'>;
}

export type KeepingActions = ReturnType<typeof makeActions>;
