import { useCallback, useState } from 'react';
import { useNavigate } from 'react-router';
import { type Keeping, useKeepingActions } from '../keeping/index.js';
import { jobPath } from '../shell/places.js';
import { type DemoJob, demoDraft, demoDrawing } from './demo-jobs.js';
import { type Incoming, incomingFile, titleFromFile, titleFromText } from './incoming.js';

/** What became of one thing that was put on the desk. */
export type Taken =
  | { readonly kind: 'started'; readonly name: string; readonly jobId: string; readonly says: string }
  | { readonly kind: 'refused'; readonly name: string; readonly says: string };

export interface Intake {
  /** What came of the last things put on the desk. */
  readonly taken: readonly Taken[];
  readonly isBusy: boolean;
  readonly takeFiles: (files: readonly File[]) => Promise<void>;
  /** An enquiry as text, with the drawing that came along, if any. */
  readonly takeText: (text: string, drawing: File | null) => Promise<void>;
  readonly takeDemo: (demo: DemoJob) => Promise<void>;
  readonly clear: () => void;
}

type Create = Keeping['createJob'];

async function incoming(file: File): Promise<Incoming> {
  try {
    return incomingFile(file.name, new Uint8Array(await file.arrayBuffer()));
  } catch {
    return {
      kind: 'refused',
      fileName: file.name,
      because: 'The browser could not read it. Drop the files themselves, not a folder.',
    };
  }
}

async function start(create: Create, came: Incoming): Promise<Taken> {
  const name = came.fileName;
  if (came.kind === 'refused') return { kind: 'refused', name, says: came.because };
  const says = `Started from ${name}`.slice(0, 300);
  if (came.kind === 'enquiry') {
    const draft = { title: titleFromText(came.text), enquiryText: came.text };
    return {
      kind: 'started',
      name,
      jobId: await create({ draft, drawing: null, says }),
      says: 'taken as the text of an enquiry',
    };
  }
  const drawing = { fileName: name, bytes: came.bytes };
  const jobId = await create({ draft: { title: titleFromFile(name) }, drawing, says });
  return {
    kind: 'started',
    name,
    jobId,
    says: came.kind === 'solid' ? 'kept with its enquiry; reading solids is not built yet' : 'an enquiry was started',
  };
}

/** Takes drawings and enquiries in; one alone is opened at once, several stay on the desk. */
export function useIntake(): Intake {
  const { createJob } = useKeepingActions();
  const navigate = useNavigate();
  const [taken, setTaken] = useState<readonly Taken[]>([]);
  const [isBusy, setBusy] = useState(false);

  const take = useCallback(
    async (work: () => Promise<readonly Taken[]>): Promise<void> => {
      setBusy(true);
      try {
        const results = await work();
        const [first] = results;
        if (results.length === 1 && first?.kind === 'started') navigate(jobPath(first.jobId));
        else setTaken(results);
      } finally {
        setBusy(false);
      }
    },
    [navigate],
  );

  const takeFiles = useCallback(
    (files: readonly File[]) =>
      take(async () => {
        const results: Taken[] = [];
        // One after the other: a heap of large drawings must not be in memory at once.
        for (const file of files) results.push(await start(createJob, await incoming(file)));
        return results;
      }),
    [take, createJob],
  );

  const takeText = useCallback(
    (text: string, file: File | null) =>
      take(async () => {
        const draft = { title: titleFromText(text), enquiryText: text };
        const came = file === null ? null : await incoming(file);
        if (came?.kind === 'refused') return [{ kind: 'refused', name: came.fileName, says: came.because }];
        const drawing =
          came === null || came.kind === 'enquiry' ? null : { fileName: came.fileName, bytes: came.bytes };
        const jobId = await createJob({ draft, drawing, says: 'Started from a pasted enquiry' });
        return [{ kind: 'started', name: draft.title, jobId, says: 'an enquiry was started' }];
      }),
    [take, createJob],
  );

  const takeDemo = useCallback(
    (demo: DemoJob) =>
      take(async () => {
        try {
          const drawing = { fileName: demo.fileName, bytes: await demoDrawing(demo) };
          const jobId = await createJob({
            draft: demoDraft(demo, new Date()),
            drawing,
            says: 'Started from a demo job',
          });
          return [{ kind: 'started', name: demo.title, jobId, says: 'a demo job was started' }];
        } catch (error) {
          const says = error instanceof Error ? error.message : String(error);
          return [{ kind: 'refused', name: demo.title, says }];
        }
      }),
    [take, createJob],
  );

  const clear = useCallback(() => setTaken([]), []);
  return { taken, isBusy, takeFiles, takeText, takeDemo, clear };
}
