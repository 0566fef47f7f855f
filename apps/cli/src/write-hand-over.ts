import { relative } from 'node:path';
import { handOverFiles, isDay } from '@gapwright/hand-over';
import type { JobInputs, JobRun } from '@gapwright/job';
import { writeFileIn } from './files.js';
import { InputError } from './input-error.js';

/** Writes everything that leaves the planner's desk into a folder and returns the paths written. */
export function writeHandOver(dir: string, run: JobRun, inputs: JobInputs, date?: string): string[] {
  return handOverFiles(run, inputs, checkedDay(date)).map(
    ({ fileName, bytes }) => relative(process.cwd(), writeFileIn(dir, fileName, bytes)) || fileName,
  );
}

/** The day on the papers; today when none is asked for. */
function checkedDay(date: string | undefined): string {
  if (date === undefined) return new Date().toISOString().slice(0, 10);
  if (!isDay(date)) throw new InputError(`--date ${date} is not a day. Write it as 2026-11-25.`);
  return date;
}
