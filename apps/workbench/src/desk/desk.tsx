import './desk.css';
import type { JobStage } from '@gapwright/records';
import { useCallback, useDeferredValue, useMemo, useRef, useState } from 'react';
import { Link } from 'react-router';
import { useJobs } from '../keeping/index.js';
import { Button } from '../kit/button.js';
import { useCommands } from '../shell/commands.js';
import { jobPath } from '../shell/places.js';
import { DEMO_JOBS } from './demo-jobs.js';
import { DemoList, DeskStart } from './desk-start.js';
import { EnquiryForm } from './enquiry-form.js';
import { useFileDrop, usePaste } from './file-drop.js';
import { deskRows, groupSlips } from './groups.js';
import { useIntake } from './intake.js';
import { useKnownAnswers } from './known.js';
import { MovedNote, useMoves } from './moves.js';
import { SlipList } from './slip-list.js';
import { useToday } from './today.js';

/** What waits for the planner: drawings come in here, slips lie by what they wait for. */
export function Desk() {
  const jobs = useJobs();
  const moves = useMoves('Desk');
  const known = useKnownAnswers();
  const today = useToday();
  const intake = useIntake();
  const [typed, setTyped] = useState('');
  const searched = useDeferredValue(typed);
  const [folded, setFolded] = useState<ReadonlySet<JobStage>>(new Set(['closed']));
  const [enquiry, setEnquiry] = useState<string | null>(null);
  const files = useRef<HTMLInputElement>(null);
  const search = useRef<HTMLInputElement>(null);

  const isOver = useFileDrop((dropped) => void intake.takeFiles(dropped));
  usePaste((pasted) => void intake.takeFiles(pasted), setEnquiry);
  const choose = (): void => files.current?.click();

  const groups = useMemo(() => groupSlips(jobs, searched), [jobs, searched]);
  // A search looks into folded groups too: what is found must be in sight.
  const rows = useMemo(() => deskRows(groups, searched === '' ? folded : new Set()), [groups, folded, searched]);
  const found = groups.reduce((sum, group) => sum + group.jobs.length, 0);

  const onFold = useCallback((stage: JobStage) => {
    setFolded((now) => {
      const next = new Set(now);
      if (!next.delete(stage)) next.add(stage);
      return next;
    });
  }, []);

  useCommands([
    { id: 'desk.choose', label: 'Choose drawings from this device', keys: 'n', group: 'Desk', run: choose },
    { id: 'desk.paste', label: 'Paste an enquiry', keys: 'e', group: 'Desk', run: () => setEnquiry('') },
    { id: 'desk.search', label: 'Search the slips', keys: '/', group: 'Desk', run: () => search.current?.focus() },
    ...DEMO_JOBS.map((demo) => ({
      id: `desk.demo.${demo.id}`,
      label: `Start the demo job: ${demo.title}`,
      group: 'Desk',
      run: () => void intake.takeDemo(demo),
    })),
  ]);

  return (
    <div className="desk">
      <header className="desk-head">
        <h1>Desk</h1>
        {jobs.length === 0 ? null : (
          <>
            <p className="desk-hint no-print">Drop drawings anywhere on this page, or</p>
            <p className="shell-actions no-print">
              <Button look="main" onPress={choose} isDisabled={intake.isBusy}>
                Choose files
              </Button>
              <Button onPress={() => setEnquiry('')}>Paste an enquiry</Button>
            </p>
            <p className="desk-find no-print">
              <input
                ref={search}
                type="search"
                className="kit-input desk-search"
                aria-label="Search the slips"
                placeholder="Search title, customer, number, material …"
                value={typed}
                onChange={(event) => setTyped(event.target.value)}
                onKeyDown={(event) => {
                  if (event.key !== 'ArrowDown') return;
                  event.preventDefault();
                  document.querySelector<HTMLElement>('.desk-list :is(.desk-slip-link, .desk-fold)')?.focus();
                }}
              />
              <span role="status" className="desk-soft">
                {searched === ''
                  ? `${jobs.length} ${jobs.length === 1 ? 'job' : 'jobs'}`
                  : `${found} of ${jobs.length}`}
              </span>
            </p>
          </>
        )}
      </header>
      <input
        ref={files}
        type="file"
        multiple
        hidden
        accept=".dxf,.stp,.step,.stl,.txt"
        onChange={(event) => {
          void intake.takeFiles([...(event.target.files ?? [])]);
          event.target.value = '';
        }}
      />
      {enquiry === null ? null : (
        <EnquiryForm
          startText={enquiry}
          isBusy={intake.isBusy}
          onStart={(text, drawing) => {
            setEnquiry(null);
            void intake.takeText(text, drawing);
          }}
          onCancel={() => setEnquiry(null)}
        />
      )}
      <div role="status" className="desk-said no-print">
        {intake.isBusy ? <p>Taking it in …</p> : null}
        {intake.taken.length === 0 ? null : (
          <div className="desk-taken">
            <ul>
              {intake.taken.map((t, i) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: the same file may come twice.
                <li key={i}>
                  {t.kind === 'started' ? (
                    <>
                      <Link to={jobPath(t.jobId)}>{t.name}</Link>: {t.says}.
                    </>
                  ) : (
                    <>
                      <strong>{t.name} was not taken.</strong> {t.says}
                    </>
                  )}
                </li>
              ))}
            </ul>
            <Button look="plain" onPress={intake.clear}>
              Put this note away
            </Button>
          </div>
        )}
        <MovedNote moves={moves} />
      </div>
      {jobs.length === 0 && enquiry === null ? (
        <DeskStart
          isBusy={intake.isBusy}
          onChoose={choose}
          onPaste={() => setEnquiry('')}
          onDemo={(demo) => void intake.takeDemo(demo)}
        />
      ) : null}
      {found === 0 && jobs.length > 0 ? (
        <p className="desk-none">
          No slip holds “{searched}”. The search looks at title, customer, number, material, file name, notes and the
          pasted enquiry.
        </p>
      ) : null}
      <SlipList rows={rows} known={known} today={today} onMove={moves.move} onFold={onFold} />
      {jobs.length === 0 ? null : (
        <details className="desk-more no-print">
          <summary>Demo jobs</summary>
          <p className="desk-soft">Invented parts, customers and quantities, marked as such on every paper.</p>
          <DemoList isBusy={intake.isBusy} onDemo={(demo) => void intake.takeDemo(demo)} />
        </details>
      )}
      {isOver ? (
        <div className="desk-over" aria-hidden="true">
          <p>Let go to start an enquiry from each file</p>
        </div>
      ) : null}
    </div>
  );
}
