import { useEffect } from 'react';
import { Link, Navigate, Route, Routes, useParams } from 'react-router';
import { lastJobId, rememberLastJob } from './last-job.js';
import { jobPath } from './places.js';
import { BurnLogPlace, Desk, Floor, JobSheet, ShopBookPlace } from './places-loading.js';

function OpenJob() {
  const { jobId = '' } = useParams();
  useEffect(() => rememberLastJob(jobId), [jobId]);
  return <JobSheet key={jobId} jobId={jobId} />;
}

/** The job sheet without a job: the one opened last, or the way to one. */
function NoJob() {
  const last = lastJobId();
  if (last !== null) return <Navigate to={jobPath(last)} replace />;
  return (
    <section className="shell-leaf">
      <h1>Job sheet</h1>
      <p>
        No job was opened on this device yet. <Link to="/">Open a slip on the desk</Link>, or drop a drawing there to
        start one.
      </p>
    </section>
  );
}

function NoPlace() {
  return (
    <section className="shell-leaf">
      <h1>There is nothing at this address</h1>
      <p>
        <Link to="/">Go to the desk</Link>, where all jobs are.
      </p>
    </section>
  );
}

export function PlaceRoutes() {
  return (
    <Routes>
      <Route path="/" element={<Desk />} />
      <Route path="/jobs" element={<NoJob />} />
      <Route path="/jobs/:jobId" element={<OpenJob />} />
      <Route path="/floor" element={<Floor />} />
      <Route path="/burns" element={<BurnLogPlace />} />
      <Route path="/book" element={<ShopBookPlace />} />
      <Route path="*" element={<NoPlace />} />
    </Routes>
  );
}
