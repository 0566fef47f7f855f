import type { JobStage } from '@gapwright/records';
import type { KnownAnswer, KnownOperation } from '../desk/known-answer.js';

/** Stages whose jobs have, or may soon have, work on the floor. */
export const FLOOR_STAGES: readonly JobStage[] = ['burning', 'to release', 'with the customer', 'to inspect'];

/** Where a plan puts work that needs no machine. */
const BENCH = 'bench';

export interface FloorJob {
  readonly jobId: string;
  readonly title: string;
  readonly stage: JobStage;
  readonly wantedDay: string | undefined;
}

export interface FloorLine<J extends FloorJob> {
  readonly job: J;
  readonly operation: KnownOperation;
  /** For all runs together, minutes. */
  readonly machineMin: number;
  readonly attendedMin: number;
  readonly touches: number;
}

export interface FloorMachine<J extends FloorJob> {
  readonly id: string;
  readonly name: string;
  readonly lines: readonly FloorLine<J>[];
  readonly machineMin: number;
  readonly attendedMin: number;
  readonly touches: number;
}

export interface FloorLoad<J extends FloorJob> {
  /** Machines with open operations, in the order of the shop book; places that are no machine of it come last. */
  readonly machines: readonly FloorMachine<J>[];
  /** Machines of the shop book with nothing open. */
  readonly idle: readonly { readonly id: string; readonly name: string }[];
  /** Jobs on the floor whose plan this device does not know. */
  readonly unplanned: readonly J[];
}

/** After the burn only what is no burn is still to do. */
function isOpen(stage: JobStage, operation: KnownOperation): boolean {
  return stage !== 'to inspect' || operation.process === 'other';
}

function compareLines<J extends FloorJob>(a: FloorLine<J>, b: FloorLine<J>): number {
  const stage = FLOOR_STAGES.indexOf(a.job.stage) - FLOOR_STAGES.indexOf(b.job.stage);
  if (stage !== 0) return stage;
  const [dayA, dayB] = [a.job.wantedDay ?? '9999', b.job.wantedDay ?? '9999'];
  if (dayA !== dayB) return dayA < dayB ? -1 : 1;
  return a.job.title.localeCompare(b.job.title, 'en') || a.operation.number - b.operation.number;
}

/** Open operations by machine, from the last known plans. No order and no dates: that is the schedule's work. */
export function floorLoad<J extends FloorJob>(
  jobs: readonly J[],
  known: ReadonlyMap<string, KnownAnswer>,
  machines: readonly { readonly id: string; readonly name: string }[],
): FloorLoad<J> {
  const lines = new Map<string, FloorLine<J>[]>();
  const unplanned: J[] = [];
  for (const job of jobs) {
    if (!FLOOR_STAGES.includes(job.stage)) continue;
    const operations = known.get(job.jobId)?.operations ?? [];
    if (operations.length === 0) unplanned.push(job);
    for (const operation of operations) {
      if (!isOpen(job.stage, operation)) continue;
      const line = {
        job,
        operation,
        machineMin: operation.machineMin * operation.runs,
        attendedMin: operation.attendedMin * operation.runs,
        touches: operation.touches.length * operation.runs,
      };
      lines.set(operation.machineId, [...(lines.get(operation.machineId) ?? []), line]);
    }
  }
  const names = new Map(machines.map((m) => [m.id, m.name]));
  const order = [...machines.map((m) => m.id), ...[...lines.keys()].filter((id) => !names.has(id)).sort()];
  const sum = (all: readonly FloorLine<J>[], of: (line: FloorLine<J>) => number): number =>
    all.reduce((total, line) => total + of(line), 0);
  return {
    machines: order
      .filter((id) => lines.has(id))
      .map((id) => {
        const own = lines.get(id)!.sort(compareLines);
        return {
          id,
          name: names.get(id) ?? (id === BENCH ? 'Bench' : id),
          lines: own,
          machineMin: sum(own, (l) => l.machineMin),
          attendedMin: sum(own, (l) => l.attendedMin),
          touches: sum(own, (l) => l.touches),
        };
      }),
    idle: machines.filter((m) => !lines.has(m.id)),
    unplanned,
  };
}
