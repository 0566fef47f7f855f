import type { Keeper } from './keeper.js';
import type { Keeping } from './keeping.js';
import { type ServerApi, ServerAway } from './server-api.js';

/** Papers and offers are made by the server from what it has, so what waits here is sent first (`flush`). */
export function makePaperActions(keeper: Keeper, api: ServerApi, flush: () => Promise<void>) {
  return {
    async paperPdf(request: Parameters<Keeping['paperPdf']>[0]): Promise<Blob> {
      await flush();
      return api.paperPdf(request);
    },
    async paperPages(request: Parameters<Keeping['paperPages']>[0]): Promise<readonly string[]> {
      await flush();
      return api.paperPages(request);
    },
    async makeOffer(jobId: string, promisedDay: string | null) {
      await flush();
      const job = keeper.job(jobId);
      if (job === undefined) throw new Error(`There is no job ${jobId} on this device.`);
      if (job.saved !== 'saved') {
        throw new ServerAway('The job is not saved on the server yet, so no offer can be kept. Try again in a moment.');
      }
      const { id, madeAt, madeBy } = keeper.making();
      const { books } = keeper.snapshot();
      const offer = await api.makeOffer({
        id,
        revisionId: job.head.id,
        bookSha256: books['shop-book'].sha256,
        postSha256: books.post.sha256,
        day: madeAt.slice(0, 10),
        promisedDay,
        madeAt,
        madeBy,
      });
      await keeper.commit((tx) => tx.put('offers', { id: offer.id, jobId: offer.jobId, offer }));
      return offer;
    },
  };
}
