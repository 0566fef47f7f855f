import './floor.css';
import { useMemo } from 'react';
import { Link } from 'react-router';
import { dueWords } from '../desk/due.js';
import { useKnownAnswers } from '../desk/known.js';
import { MovedNote, type Moves, useMoves } from '../desk/moves.js';
import { type SlipJob, titleOf } from '../desk/slip.js';
import { StageMenu } from '../desk/stage-menu.js';
import { STAGE_WORDS } from '../desk/stages.js';
import { useToday } from '../desk/today.js';
import { useBook, useJobs } from '../keeping/index.js';
import { Mark } from '../kit/mark.js';
import { jobPath } from '../shell/places.js';
import { bookMachines } from './book-machines.js';
import { FLOOR_STAGES, type FloorJob, floorLoad } from './open-operations.js';
import { OperationTable } from './operation-table.js';

interface SlipOnFloor extends FloorJob {
  readonly slip: SlipJob;
}

function JobLine({ job, moves, today }: { readonly job: SlipOnFloor; readonly moves: Moves; readonly today: string }) {
  const wanted = job.wantedDay === undefined ? null : dueWords(job.wantedDay, today);
  return (
    <li className="floor-job">
      <Link to={jobPath(job.jobId)} className="floor-job-title">
        {job.title}
      </Link>
      <span>{STAGE_WORDS[job.stage].heading}</span>
      <span>
        {wanted === null ? (
          <span className="floor-soft">no wanted day</span>
        ) : wanted.isLate ? (
          <Mark kind="needs">{wanted.text}</Mark>
        ) : (
          `wanted ${wanted.text}`
        )}
      </span>
      <StageMenu title={job.title} stage={job.stage} onMove={(stage) => moves.move(job.slip, stage)} />
    </li>
  );
}

/** Until the schedule is there: what is open on which machine, and what will be here. */
export function Floor() {
  const jobs = useJobs();
  const known = useKnownAnswers();
  const book = useBook('shop-book');
  const today = useToday();
  const moves = useMoves('Floor');
  const onFloor = useMemo(
    () =>
      jobs
        .filter((job) => FLOOR_STAGES.includes(job.stage))
        .map(
          (job): SlipOnFloor => ({
            jobId: job.jobId,
            title: titleOf(job),
            stage: job.stage,
            wantedDay: job.draft.wantedDay,
            slip: job,
          }),
        )
        .sort(
          (a, b) =>
            FLOOR_STAGES.indexOf(a.stage) - FLOOR_STAGES.indexOf(b.stage) ||
            ((a.wantedDay ?? '9999') < (b.wantedDay ?? '9999') ? -1 : 1),
        ),
    [jobs],
  );
  const load = useMemo(() => floorLoad(onFloor, known, bookMachines(book.json)), [onFloor, known, book.json]);

  return (
    <div className="floor">
      <h1>Floor</h1>
      <section className="floor-coming" aria-labelledby="floor-coming">
        <h2 id="floor-coming">What will be here</h2>
        <p>
          Who must be where, and when: one line per machine over time, its burns as quiet bars and every touch as a loud
          mark, the next touch first, and the night when nobody is there. The schedule behind it is not built yet, so
          nothing below is in order of time and no date follows from it.
        </p>
      </section>
      <div role="status">
        <MovedNote moves={moves} />
      </div>
      {onFloor.length === 0 ? (
        <p className="floor-empty">
          No job is with the customer, to release, burning or to inspect. Move a slip on at the <Link to="/">desk</Link>
          , and its operations stand here under their machines.
        </p>
      ) : (
        <>
          <section aria-labelledby="floor-open">
            <h2 id="floor-open">Open operations by machine</h2>
            <p className="floor-soft floor-note">
              From the last plan of each job on this device, all runs together. A machine is taken for its own time and
              for the attended time. Of jobs to inspect only the bench work is still open.
            </p>
            {load.machines.length > 0 ? <OperationTable machines={load.machines} /> : null}
            {load.machines.length > 0 && load.idle.length > 0 ? (
              <p className="floor-soft floor-note">Nothing open on {load.idle.map((m) => m.name).join(', ')}.</p>
            ) : null}
          </section>
          {load.unplanned.length === 0 ? null : (
            <section aria-labelledby="floor-unplanned">
              <h2 id="floor-unplanned">Not planned on this device</h2>
              <p className="floor-soft floor-note">Open the job sheet once, and the operations are added above.</p>
              <ul className="floor-unplanned">
                {load.unplanned.map((job) => (
                  <li key={job.jobId}>
                    <Link to={jobPath(job.jobId)}>{job.title}</Link>{' '}
                    <span className="floor-soft">{STAGE_WORDS[job.stage].heading.toLowerCase()}</span>
                  </li>
                ))}
              </ul>
            </section>
          )}
          <section aria-labelledby="floor-jobs">
            <h2 id="floor-jobs">Jobs on the floor</h2>
            <ul className="floor-jobs">
              {onFloor.map((job) => (
                <JobLine key={job.jobId} job={job} moves={moves} today={today} />
              ))}
            </ul>
          </section>
        </>
      )}
    </div>
  );
}
