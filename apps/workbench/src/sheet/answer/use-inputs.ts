import type { DraftJob } from '@gapwright/job';
import type { FileRef } from '@gapwright/records';
import { useEffect, useMemo, useState } from 'react';
import type { SheetInputs } from '../../engine/index.js';
import { useBook, useKeepingActions } from '../../keeping/index.js';

interface DrawingState {
  readonly drawing: SheetInputs['drawing'];
  /** Why its bytes cannot be had; null when they can or are on their way. */
  readonly fault: string | null;
  readonly isHere: boolean;
}

const NO_DRAWING: DrawingState = { drawing: null, fault: null, isHere: true };
const ON_ITS_WAY: DrawingState = { drawing: null, fault: null, isHere: false };

/** The bytes of a kept drawing, from this device or else from the server. */
export function useDrawing(ref: FileRef | null): DrawingState {
  const { fileBytes } = useKeepingActions();
  const [found, setFound] = useState<{ readonly key: string; readonly state: DrawingState } | null>(null);
  const sha256 = ref?.sha256;
  const fileName = ref?.fileName;
  const key = sha256 === undefined ? null : `${sha256} ${fileName}`;
  useEffect(() => {
    if (sha256 === undefined || fileName === undefined) return;
    const wanted = `${sha256} ${fileName}`;
    let isHere = true;
    const put = (state: DrawingState): void => {
      if (isHere) setFound({ key: wanted, state });
    };
    fileBytes(sha256).then(
      (bytes) => put({ drawing: { sha256, fileName, bytes }, fault: null, isHere: true }),
      (error: unknown) =>
        put({ drawing: null, fault: error instanceof Error ? error.message : String(error), isHere: true }),
    );
    return () => {
      isHere = false;
    };
  }, [fileBytes, sha256, fileName]);
  if (key === null) return NO_DRAWING;
  return found?.key === key ? found.state : ON_ITS_WAY;
}

/** What an answer is worked out from; null while the drawing is fetched. */
export function useInputs(draft: DraftJob | null, { drawing, isHere, fault }: DrawingState): SheetInputs | null {
  const book = useBook('shop-book');
  const post = useBook('post');
  return useMemo(() => {
    if (draft === null || !isHere || fault !== null) return null;
    return {
      draft,
      drawing,
      book: { sha256: book.sha256, json: book.json },
      post: { sha256: post.sha256, json: post.json },
    };
  }, [draft, drawing, isHere, fault, book, post]);
}
