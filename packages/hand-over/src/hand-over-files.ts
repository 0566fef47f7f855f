import { createHash } from 'node:crypto';
import { relative } from 'node:path';
import { BugError } from '@gapwright/base';
import { writeDxf } from '@gapwright/exchange';
import { offsetContour } from '@gapwright/geometry';
import { type JobFile, type JobInputs, type JobRun, type ProvenProgram, studyPrice } from '@gapwright/job';
import { drawingSvg, lengthText, renderPaper } from '@gapwright/papers';
import type { Plan, WireOperation } from '@gapwright/planning';
import { writeFileIn } from './files.js';
import { InputError } from './input-error.js';
import { type PaperContext, paperHead } from './paper-data/context.js';
import { drawingOf } from './paper-data/drawing.js';
import { quotationData } from './paper-data/quotation.js';
import { routeCardData } from './paper-data/route-card.js';
import { setUpSheetData } from './paper-data/set-up-sheet.js';

/**
 * Writes everything that leaves the planner's desk into a folder: drawing, job file with the facts of the set-up,
 * program, papers, DXF of the offset paths and picture. A plan that was stopped writes only the job file.
 * Returns the paths written.
 */
export function writeHandOver(dir: string, run: JobRun, inputs: JobInputs, date?: string): string[] {
  const day = checkedDate(date);
  const written: string[] = [];
  const put = (name: string, content: string | Uint8Array): void => {
    written.push(relative(process.cwd(), writeFileIn(dir, name, content)) || name);
  };
  const { plan } = run;
  put(inputs.drawing.fileName, inputs.drawing.bytes);
  put('job.json', `${JSON.stringify(jobWithSetUps(inputs.job, inputs.drawing.fileName, run.programs), null, 2)}\n`);
  if (plan === null || run.offer === null) return written;

  const context: PaperContext = { run, plan, offer: run.offer, study: studyPrice(run, inputs), inputs, date: day };
  const unit = paperHead(context).lengthUnit;
  // Papers of one day are byte-identical: the clock's seconds do not matter.
  const createdAtS = Date.parse(`${day}T00:00:00Z`) / 1000;
  for (const program of run.programs) {
    const operation = wireOperation(plan, program.operation);
    put(program.fileName, program.text);
    put(`op${operation.number}-offset-paths.dxf`, offsetPathsDxf(plan, operation));
    const drawing = drawingOf(run, plan, operation);
    put(`op${operation.number}-picture.svg`, drawingSvg(drawing, lengthText(unit), PICTURE).svg);
    const sheet = setUpSheetData(context, operation, program, drawing, sha256(program.text));
    put(`op${operation.number}-set-up-sheet.pdf`, renderPaper('set-up-sheet', sheet, { createdAtS }));
  }
  put('quotation.pdf', renderPaper('quotation', quotationData(context), { createdAtS }));
  put('route-card.pdf', renderPaper('route-card', routeCardData(context), { createdAtS }));
  return written;
}

/** The picture by itself fills a landscape page, mm. */
const PICTURE = { widthMm: 260, maxHeightMm: 180 };

/** The job as it was planned, so that `prove` finds the facts of the set-up beside each program. */
function jobWithSetUps(job: JobFile, drawing: string, programs: readonly ProvenProgram[]): JobFile {
  const { setUps: _old, ...rest } = job;
  if (programs.length === 0) return { ...rest, drawing };
  const setUps = Object.fromEntries(programs.map((p) => [p.fileName, structuredClone(p.setup)]));
  return { ...rest, drawing, setUps: setUps as JobFile['setUps'] };
}

function wireOperation(plan: Plan, number: number): WireOperation {
  const operation = plan.operations.find((op) => op.number === number);
  if (operation?.process !== 'wire') throw new BugError(`program of operation ${number} has no wire operation`);
  return operation;
}

/** Nominal contours and the wire centre of each pass, one layer each. */
function offsetPathsDxf(plan: Plan, operation: WireOperation): string {
  const layers = operation.passes.map((pass) => ({
    name: `PASS_${pass.pass}`,
    colour: Math.min(pass.pass, 6),
    // The part is left of travel, the wire on the right.
    contours: plan.features.flatMap((f) => offsetContour(f.contour, -pass.offsetMm.value)),
  }));
  const nominal = { name: 'PART', colour: 7, contours: plan.features.map((f) => f.contour) };
  const { value, problems } = writeDxf([nominal, ...layers]);
  if (value === null) throw new BugError(`offset paths cannot be written: ${problems[0]?.message}`);
  return value;
}

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

function checkedDate(date: string | undefined): string {
  if (date === undefined) return new Date().toISOString().slice(0, 10);
  const parsed = /^\d{4}-\d{2}-\d{2}$/.test(date) ? new Date(`${date}T00:00:00Z`) : undefined;
  if (parsed === undefined || Number.isNaN(parsed.getTime()) || parsed.toISOString().slice(0, 10) !== date) {
    throw new InputError(`--date ${date} is not a day. Write it as 2026-11-25.`);
  }
  return date;
}
