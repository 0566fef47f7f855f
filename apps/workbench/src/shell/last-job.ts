const KEY = 'gapwright.lastJob';

/** The job that was opened last on this device; null when none was. */
export function lastJobId(): string | null {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}

export function rememberLastJob(jobId: string): void {
  try {
    localStorage.setItem(KEY, jobId);
  } catch {
    // Private windows may forbid it; the desk still leads to every job.
  }
}
