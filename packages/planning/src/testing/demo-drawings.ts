import { readdirSync, readFileSync } from 'node:fs';
import { profileFromDrawing, readDxf } from '../../../exchange/src/index.js';
import type { DrawnContour } from '../features.js';
import type { WireRequest } from '../plan.js';

const DEMO = new URL('../../../../demo/', import.meta.url);

/** A demo job as planning sees it. */
export interface DemoJob {
  readonly name: string;
  readonly contours: readonly DrawnContour[];
  readonly request: WireRequest;
}

/** All demo jobs. */
export function demoJobs(): DemoJob[] {
  const names = readdirSync(DEMO).filter((name) => !name.includes('.'));
  return names.map((name) => {
    const read = (file: string): Buffer => readFileSync(new URL(`${name}/${file}`, DEMO));
    const job = JSON.parse(read('job.json').toString('utf8'));
    const { value: drawing } = readDxf(read(job.drawing), { fileName: job.drawing });
    if (drawing === null) throw new Error(`${job.drawing} cannot be read`);
    const { value: profile } = profileFromDrawing(drawing, { units: job.units, layers: job.layers });
    if (profile === null) throw new Error(`${job.drawing} has no profile`);
    const optional = ['recastMaxUm', 'agreedCornerRadiusMm', 'stack', 'plate', 'keepOuts', 'openPartSide', 'cutLayers'];
    const stated = optional.filter((key) => job[key] !== undefined).map((key) => [key, job[key]]);
    const { heightMm, raUm, toleranceMm, quantity } = job;
    const request: WireRequest = {
      materialId: job.material,
      heightMm,
      raUm,
      toleranceMm,
      quantity,
      ...(job.wire === undefined ? {} : { wireId: job.wire }),
      ...(job.machine === undefined ? {} : { machineId: job.machine }),
      ...Object.fromEntries(stated),
    };
    return { name, contours: profile.contours, request };
  });
}
