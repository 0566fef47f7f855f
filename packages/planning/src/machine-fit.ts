import { type Problem, problem } from '@gapwright/base';
import type { WireMachine } from '@gapwright/process';
import type { Job } from './job.js';
import type { SetUp } from './set-up.js';

/** Why this machine cannot take the work; empty when it can. Without a set-up only the height is looked at. */
export function machineProblems(job: Job, machine: WireMachine, setUp: SetUp | null, stack: number): Problem[] {
  const out: Problem[] = [];
  const stop = (code: string, what: string, fix: string): void => {
    out.push(problem({ code, severity: 'stop', what, fix }));
  };
  const heightMm = job.request.heightMm * stack;
  if (heightMm > machine.maxHeightMm) {
    const what = `The work is ${heightMm} mm high; ${machine.name} takes ${machine.maxHeightMm} mm`;
    stop('WIRE-TOO-HIGH', what, stack > 1 ? 'Stack fewer plates, or use another machine' : 'Use another machine');
  }
  if (setUp === null || setUp.layouts.length === 0) return out;
  const { reach } = setUp;
  const x = reach.maxX - reach.minX;
  const y = reach.maxY - reach.minY;
  if (x > machine.travelXMm || y > machine.travelYMm) {
    const what = `The cuts span ${x.toFixed(1)} x ${y.toFixed(1)} mm; ${machine.name} travels ${machine.travelXMm} x ${machine.travelYMm} mm`;
    stop('WIRE-TRAVEL', what, 'Use a larger machine, turn the drawing, or split the work');
  }
  const { plate } = setUp.stock;
  const massKg =
    ((plate.maxX - plate.minX) * (plate.maxY - plate.minY) * heightMm * job.material.densityGPerCm3.value) / 1e6;
  if (massKg > machine.maxMassKg) {
    const what = `The plate weighs ${massKg.toFixed(0)} kg; ${machine.name} takes ${machine.maxMassKg} kg`;
    stop('WIRE-TOO-HEAVY', what, 'Use another machine or a smaller plate');
  }
  return out;
}
