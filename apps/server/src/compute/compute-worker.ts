import { makeHandOver, makePaper } from '@gapwright/hand-over';
import type { Computed, ComputeTask } from './compute-task.js';
import { jobInputsOf } from './job-inputs.js';

/** Runs in a worker thread: a job takes seconds, and the server must go on answering. */
export default function compute(task: ComputeTask): Computed[ComputeTask['makes']] {
  const inputs = jobInputsOf(task.job);
  if (inputs.value === null) return { value: null, problems: inputs.problems };
  return task.makes === 'paper' ? makePaper(task.ask, inputs.value) : makeHandOver(inputs.value, task.day);
}
