import { basename, dirname, resolve } from 'node:path';
import { checkJob, type JobFile, type JobInputs, parseJobFile } from '@gapwright/job';
import { loadPost, loadShopBook, readBytes, readText } from './files.js';
import { InputError } from './input-error.js';
import { countFlag, listFlag, numberFlag, type TypedArguments, textFlag } from './parse-arguments.js';

type Flags = TypedArguments['flags'];

const UNITS = ['mm', 'cm', 'm', 'um', 'in', 'ft'] as const;

/** Fit tolerance is typed in micrometres. */
const MM_PER_UM = 0.001;

/** Reading options typed as flags. */
export function drawingFlags(flags: Flags): {
  units?: (typeof UNITS)[number];
  joinMm?: number;
  fitMm?: number;
  layers?: string[];
} {
  const units = textFlag(flags, 'units');
  const known = UNITS.find((u) => u === units);
  if (units !== undefined && known === undefined) {
    throw new InputError(`--units ${units} is not known. Use one of ${UNITS.join(', ')}.`);
  }
  const joinMm = numberFlag(flags, 'join');
  const fitUm = numberFlag(flags, 'fit');
  const layers = listFlag(flags, 'layers');
  if (joinMm !== undefined && !(joinMm > 0 && joinMm <= 1)) {
    throw new InputError(`--join ${joinMm} is not between 0 and 1 mm. Close wider gaps in the drawing.`);
  }
  if (fitUm !== undefined && !(fitUm >= 0.01 && fitUm <= 100)) {
    throw new InputError(`--fit ${fitUm} is not between 0.01 and 100 micrometres. The default is 0.5.`);
  }
  return {
    ...(known === undefined ? {} : { units: known }),
    ...(joinMm === undefined ? {} : { joinMm }),
    ...(fitUm === undefined ? {} : { fitMm: fitUm * MM_PER_UM }),
    ...(layers === undefined ? {} : { layers }),
  };
}

/** What a job consists of after the job file (or the bare drawing) and the flags are put together; flags win. */
export interface ResolvedJob {
  readonly inputs: JobInputs;
  /** Name shown for the job: the file typed by the user. */
  readonly shownFile: string;
}

/** Reads the operand of plan, price and why: a DXF drawing with flags, or a job file. */
export function resolveJob(path: string, flags: Flags): ResolvedJob {
  const drawingOptions = drawingFlags(flags);
  const isDrawing = /\.dxf$/i.test(path);
  const base: Partial<JobFile> = isDrawing
    ? { gapwrightJob: 1, drawing: basename(path), quantity: 1 }
    : readJobFile(path);
  const { fitMm, ...fromFlags } = drawingOptions;
  const request = requestFlags(flags);
  const offer = request.offer === undefined ? {} : { offer: { ...base.offer, ...request.offer } };
  const candidate = { ...base, ...fromFlags, ...request, ...offer };
  if (isDrawing) requireRequest(candidate);
  const { value: job, problems } = checkJob(candidate, path);
  if (job === null) throw new InputError(problems[0]!.message);
  const drawingPath = isDrawing ? path : resolve(dirname(path), job.drawing);
  const inputs: JobInputs = {
    job,
    drawing: { bytes: readBytes(drawingPath), fileName: basename(drawingPath) },
    book: loadShopBook(textFlag(flags, 'shop')),
    post: loadPost(textFlag(flags, 'post')),
    seed: countFlag(flags, 'seed') ?? 1,
    ...(fitMm === undefined ? {} : { fitMm }),
  };
  return { inputs, shownFile: path };
}

export function readJobFile(path: string): JobFile {
  const { value, problems } = parseJobFile(readText(path), path);
  if (value === null) throw new InputError(problems[0]!.message);
  return value;
}

function requestFlags(flags: Flags): Partial<JobFile> {
  const out: Record<string, unknown> = {};
  const set = (field: string, value: unknown): void => {
    if (value !== undefined) out[field] = value;
  };
  set('material', textFlag(flags, 'material'));
  set('heightMm', numberFlag(flags, 'height'));
  set('raUm', numberFlag(flags, 'ra'));
  set('toleranceMm', numberFlag(flags, 'tol'));
  set('quantity', numberFlag(flags, 'qty'));
  set('recastMaxUm', numberFlag(flags, 'recast'));
  set('agreedCornerRadiusMm', numberFlag(flags, 'corner'));
  set('openPartSide', textFlag(flags, 'part-side'));
  set('wire', textFlag(flags, 'wire'));
  set('machine', textFlag(flags, 'machine'));
  set('stack', numberFlag(flags, 'stack'));
  set('cutLayers', listFlag(flags, 'cut-layers'));
  const unitPrice = numberFlag(flags, 'price');
  const quantities = listFlag(flags, 'quantities')?.map((q) => numberFlag({ quantities: q }, 'quantities'));
  if (unitPrice !== undefined || quantities !== undefined) {
    out.offer = {
      ...(unitPrice === undefined ? {} : { unitPrice }),
      ...(quantities === undefined ? {} : { quantities }),
    };
  }
  return out as Partial<JobFile>;
}

/** A bare drawing says nothing of what is wanted; name everything that is missing in one sentence. */
function requireRequest(candidate: Partial<JobFile>): void {
  const needed: readonly [keyof JobFile, string][] = [
    ['material', '--material ID'],
    ['heightMm', '--height MM'],
    ['raUm', '--ra UM'],
    ['toleranceMm', '--tol MM'],
  ];
  const missing = needed.filter(([field]) => candidate[field] === undefined).map(([, flag]) => flag);
  if (missing.length > 0) throw new InputError(`The drawing does not say what is wanted. Give ${missing.join(', ')}.`);
}
