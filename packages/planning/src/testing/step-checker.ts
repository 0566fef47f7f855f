import { distanceMm, type Point, segmentLengthMm } from '@gapwright/geometry';
import type { ProgramStep } from '@gapwright/program';
import type { WireOperation } from '../plan.js';

/** What a walk over the steps saw; `faults` is empty for sound steps. */
export interface StepCheck {
  readonly faults: readonly string[];
  /** Length of all cuts of each pass, lead-ins and lead-outs included, mm. */
  readonly passMm: ReadonlyMap<number, number>;
  readonly threadings: number;
  /** `feature/pass` with the length cut along the contour, mm. */
  readonly contourMm: ReadonlyMap<string, number>;
}

/** Ends of steps must meet within this, mm: rounding of sums only. */
const MEET_MM = 1e-6;

/**
 * Walks over the steps as a machine would, knowing nothing of how they were planned: the wire may be threaded only in a
 * start hole and only when there is none, moved without cutting only when cut off, and every path must hang together.
 */
export function checkSteps(operation: WireOperation): StepCheck {
  const faults: string[] = [];
  const passMm = new Map<number, number>();
  const contourMm = new Map<string, number>();
  const registers = new Set<number>();
  let at: Point | null = null;
  let isThreaded = false;
  let level = 0;
  let threadings = 0;
  const fault = (step: ProgramStep, says: string): void => {
    faults.push(`${step.kind}: ${says}`);
  };
  for (const step of operation.steps) {
    if (step.kind === 'set-register') registers.add(step.register.number);
    else if (step.kind === 'select-level') level = step.level;
    else if (step.kind === 'move') {
      if (isThreaded) fault(step, 'moved with the wire in the work');
      at = step.to;
    } else if (step.kind === 'thread-wire') {
      if (isThreaded) fault(step, 'threaded twice');
      if (at === null || distanceMm(at, step.at) > MEET_MM) fault(step, 'threaded away from where it stands');
      if (!operation.startHoles.some((h) => distanceMm(h.at, step.at) <= MEET_MM)) fault(step, 'no start hole here');
      isThreaded = true;
      threadings++;
    } else if (step.kind === 'cut-wire') {
      if (!isThreaded) fault(step, 'no wire to cut');
      isThreaded = false;
    } else if (step.kind === 'cut') {
      if (!isThreaded) fault(step, 'cuts without wire');
      if (!registers.has(step.register)) fault(step, `register ${step.register} is not set`);
      const pass = operation.passes.find((p) => p.pass === step.pass);
      if (pass?.level !== level) fault(step, `pass ${step.pass} at level ${level}`);
      const path = step.path.reduce((sum, s) => sum + segmentLengthMm(s), 0);
      const key = `${step.feature}/${step.pass}`;
      contourMm.set(key, (contourMm.get(key) ?? 0) + path);
      for (const s of [...step.leadIn, ...step.path, ...step.leadOut]) {
        if (at === null || distanceMm(at, s.from) > MEET_MM) fault(step, `gap before (${s.from.x}, ${s.from.y})`);
        at = s.to;
        passMm.set(step.pass, (passMm.get(step.pass) ?? 0) + segmentLengthMm(s));
      }
    }
  }
  if (isThreaded) faults.push('the wire is left in the work');
  return { faults, passMm, threadings, contourMm };
}
