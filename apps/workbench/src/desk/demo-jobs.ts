import type { DraftJob, JobFile } from '@gapwright/job';
import { dayOf } from './due.js';

/** An invented job that comes with the page. */
export interface DemoJob {
  /** Its folder's name. */
  readonly id: string;
  readonly title: string;
  /** One line: what is asked for. */
  readonly says: string;
  readonly draft: DraftJob;
  readonly fileName: string;
  readonly url: string;
}

const jobs = import.meta.glob<JobFile>('../../../../demo/*/job.json', { eager: true, import: 'default' });
const drawings = import.meta.glob<string>('../../../../demo/*/*.dxf', {
  eager: true,
  import: 'default',
  query: '?url&no-inline',
});

/** Days from now each demo job is wanted in, so that the desk shows near and far ones. As invented as the jobs. */
const WANTED_IN_DAYS: Readonly<Record<string, number>> = {
  'coupling-spline': 5,
  'rotor-pair': 12,
  'swirler-plate': 8,
  'blade-die-plate': 20,
  'blade-punch': 20,
  'lattice-clip': 15,
};

/** The draft a demo job starts with on a day. */
export function demoDraft(demo: DemoJob, now: Date): DraftJob {
  const wanted = new Date(now);
  wanted.setDate(wanted.getDate() + (WANTED_IN_DAYS[demo.id] ?? 14));
  return { ...demo.draft, wantedDay: dayOf(wanted) };
}

function demoJob([path, file]: readonly [string, JobFile]): DemoJob {
  const { gapwrightJob: _version, drawing, setUps: _setUps, ...draft } = file;
  const folder = path.slice(0, path.lastIndexOf('/'));
  return {
    id: folder.slice(folder.lastIndexOf('/') + 1),
    title: file.title ?? drawing,
    says: `${file.material}, ${file.heightMm} mm high, ${file.quantity === 1 ? '1 piece' : `${file.quantity} pieces`}`,
    draft,
    fileName: drawing,
    url: drawings[`${folder}/${drawing}`]!,
  };
}

/** The demo jobs by their enquiry number. */
export const DEMO_JOBS: readonly DemoJob[] = Object.entries(jobs)
  .map(demoJob)
  .sort((a, b) => ((a.draft.enquiry ?? '') < (b.draft.enquiry ?? '') ? -1 : 1));

/** The drawing of a demo job; rejects with a sentence when neither the server nor this device has it. */
export async function demoDrawing(demo: DemoJob): Promise<Uint8Array> {
  const answer = await fetch(demo.url).catch(() => null);
  if (answer === null || !answer.ok)
    throw new Error(`The demo drawing ${demo.fileName} could not be fetched. Try again when the server answers.`);
  return new Uint8Array(await answer.arrayBuffer());
}
