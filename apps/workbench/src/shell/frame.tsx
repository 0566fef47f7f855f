import { lazy, type ReactNode, Suspense, useCallback, useMemo, useState } from 'react';
import { useLocation, useNavigate } from 'react-router';
import { titleOf } from '../desk/slip.js';
import { useJobs } from '../keeping/index.js';
import { useDisplay } from '../units/index.js';
import { useArrival, usePageTitle } from './arrive.js';
import { CautionFoot } from './caution-foot.js';
import { useCommands, useFindables } from './commands.js';
import { FaultPage } from './fault-page.js';
import { Head } from './head.js';
import { KeepingLine, NoticeStrip } from './keeping-line.js';
import { useKeys } from './key-listener.js';
import { keyCaps } from './keys.js';
import { lastJobId } from './last-job.js';
import { jobIdOf, jobPath, PLACES, placeOf } from './places.js';
import { isMac } from './system.js';
import { UpdateLine } from './update-line.js';

const Finder = lazy(() => import('./finder.js'));
const Help = lazy(() => import('./help/help.js'));

/** What lies around every place: head, keys, finder, help, foot. */
export function Frame({ children }: { readonly children: ReactNode }) {
  const { pathname } = useLocation();
  const navigate = useNavigate();
  const { unit, setUnit } = useDisplay();
  const [over, setOver] = useState<'finder' | 'help' | null>(null);
  const place = placeOf(pathname);
  const lastJob = jobIdOf(pathname) ?? lastJobId();
  const close = useCallback(() => setOver(null), []);

  useKeys();
  useArrival(pathname);
  const jobs = useJobs();
  const openJob = jobs.find((job) => job.jobId === jobIdOf(pathname));
  usePageTitle(openJob !== undefined ? titleOf(openJob) : (PLACES.find((p) => p.id === place)?.label ?? 'Not found'));
  const jobFindables = useMemo(
    () =>
      jobs.map((job) => ({
        id: job.jobId,
        label: titleOf(job),
        says: [job.draft.customer, job.draft.enquiry].filter(Boolean).join(' · '),
        words: [job.draft.material, job.drawing?.fileName, job.stage].filter(Boolean).join(' '),
        run: () => navigate(jobPath(job.jobId)),
      })),
    [jobs, navigate],
  );
  useFindables('Job', jobFindables);
  useCommands([
    {
      id: 'frame.find',
      label: 'Find a job, a place, a figure or a command',
      keys: 'Mod+K',
      group: 'Everywhere',
      alsoInText: true,
      run: () => setOver('finder'),
    },
    { id: 'frame.help', label: 'Help for this place', keys: '?', group: 'Everywhere', run: () => setOver('help') },
    ...PLACES.map((p) => ({
      id: `frame.go.${p.id}`,
      label: p.id === 'sheet' ? 'Go to the job opened last' : `Go to the ${p.label.toLowerCase()}`,
      keys: p.keys,
      group: 'Everywhere',
      run: () => navigate(p.id === 'sheet' && lastJob !== null ? jobPath(lastJob) : p.path),
    })),
    {
      id: 'frame.unit',
      label: unit === 'mm' ? 'Show lengths in inches' : 'Show lengths in mm',
      keys: 'g u',
      group: 'Everywhere',
      run: () => setUnit(unit === 'mm' ? 'inch' : 'mm'),
    },
  ]);

  return (
    <>
      <a className="shell-skip" href="#place">
        Skip to the sheet
      </a>
      <Head
        place={place}
        lastJob={lastJob}
        keeping={<KeepingLine />}
        onFind={() => setOver('finder')}
        onHelp={() => setOver('help')}
        findCaps={keyCaps('Mod+K', isMac)}
      />
      <UpdateLine />
      <NoticeStrip />
      <main id="place" className="shell-main" tabIndex={-1}>
        <div data-address={pathname}>
          <FaultPage resetKey={pathname}>
            <Suspense fallback={<p className="shell-leaf shell-wait">Laying out the sheet …</p>}>{children}</Suspense>
          </FaultPage>
        </div>
      </main>
      <CautionFoot />
      <Suspense fallback={null}>
        {over === 'finder' ? <Finder onClose={close} /> : null}
        {over === 'help' ? <Help place={place} onClose={close} /> : null}
      </Suspense>
    </>
  );
}
