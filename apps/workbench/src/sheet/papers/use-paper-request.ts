import type { DraftJob } from '@gapwright/job';
import type { PaperRequest } from '@gapwright/records';
import { useMemo } from 'react';
import { dayOf } from '../../desk/due.js';
import { useBook, useJob } from '../../keeping/index.js';
import type { Paper } from './paper-list.js';

type RequestOf = (paper: Paper, form: PaperRequest['form'], asks: readonly string[]) => PaperRequest;

/** Asks the server for a paper of the job as it stands; null while the job has no drawing. */
export function usePaperRequest(jobId: string, draft: DraftJob): RequestOf | null {
  const drawing = useJob(jobId)?.drawing ?? null;
  const book = useBook('shop-book');
  const post = useBook('post');
  return useMemo(() => {
    if (drawing === null) return null;
    return (paper, form, asks) => ({
      kind: paper.kind,
      form,
      operation: paper.operation,
      content: draft,
      drawing: { sha256: drawing.sha256, fileName: drawing.fileName },
      bookSha256: book.sha256,
      postSha256: post.sha256,
      // By the clock on the wall, not by UTC.
      day: dayOf(new Date()),
      asks: paper.kind === 'letter' ? [...asks] : [],
    });
  }, [draft, drawing, book.sha256, post.sha256]);
}
