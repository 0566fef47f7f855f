import { BugError } from '@gapwright/base';
import { writeDxf } from '@gapwright/exchange';
import { offsetContour } from '@gapwright/geometry';
import {
  isProven,
  type JobFile,
  type JobInputs,
  type JobRun,
  type PriceStudy,
  type ProvenProgram,
  studyPrice,
} from '@gapwright/job';
import { drawingSvg, lengthText, letterText, renderPaper } from '@gapwright/papers';
import type { Plan, WireOperation } from '@gapwright/planning';
import { createdAtS } from './day.js';
import { type PaperContext, paperHead } from './paper-data/context.js';
import { drawingOf } from './paper-data/drawing.js';
import { letterData } from './paper-data/letter.js';
import { quotationData } from './paper-data/quotation.js';
import { routeCardData } from './paper-data/route-card.js';
import { worthAsking } from './paper-data/savings.js';
import { setUpSheetData } from './paper-data/set-up-sheet.js';
import { wireOperationOf } from './wire-operation.js';

/** One file of a hand-over; the name has no folder. */
export interface HandOverFile {
  readonly fileName: string;
  readonly bytes: Uint8Array;
}

/**
 * Everything that leaves the planner's desk: drawing, job file with the facts of the set-up, programs, papers, DXF of
 * the offset paths, pictures, and a letter when a change of the requirements would save something. A plan that was
 * stopped gives only drawing and job file. `day` is the day on the papers, `YYYY-MM-DD`; the same run and day give the
 * same bytes. A price study made before saves making it again.
 */
export function handOverFiles(
  run: JobRun,
  inputs: JobInputs,
  day: string,
  study: PriceStudy = studyPrice(run, inputs),
): HandOverFile[] {
  const made = madeFiles(run, inputs, day, study);
  const given = inputs.drawing.fileName;
  const isTaken = ['job.json', ...made.map((f) => f.fileName)].includes(given.toLowerCase());
  // Planning a drawing that was itself handed over once must not write one over the other.
  const drawing = isTaken ? `drawing-${given}` : given;
  const job = `${JSON.stringify(jobWithSetUps(inputs.job, drawing, run.programs), null, 2)}\n`;
  return [{ fileName: drawing, bytes: inputs.drawing.bytes }, textFile('job.json', job), ...made];
}

const textFile = (fileName: string, text: string): HandOverFile => ({
  fileName,
  bytes: new TextEncoder().encode(text),
});

/** Everything that is made from the plan; nothing when there is none. */
function madeFiles(run: JobRun, inputs: JobInputs, day: string, study: PriceStudy): HandOverFile[] {
  const { plan } = run;
  if (plan === null || run.offer === null) return [];
  const files: HandOverFile[] = [];
  const put = (fileName: string, content: string | Uint8Array): void => {
    files.push(typeof content === 'string' ? textFile(fileName, content) : { fileName, bytes: content });
  };
  const context: PaperContext = { run, plan, offer: run.offer, study, inputs, date: day };
  const unit = paperHead(context).lengthUnit;
  const options = { createdAtS: createdAtS(day) };
  for (const program of run.programs) {
    const operation = wireOperationOf(plan, program.operation);
    put(program.fileName, program.text);
    put(`op${operation.number}-offset-paths.dxf`, offsetPathsDxf(plan, operation));
    const drawing = drawingOf(run, plan, operation);
    put(`op${operation.number}-picture.svg`, drawingSvg(drawing, lengthText(unit), PICTURE).svg);
    const sheet = setUpSheetData(context, operation, program, drawing);
    put(`op${operation.number}-set-up-sheet.pdf`, renderPaper('set-up-sheet', sheet, options));
  }
  put('quotation.pdf', renderPaper('quotation', quotationData(context), options));
  put('route-card.pdf', renderPaper('route-card', routeCardData(context), options));
  const asked = isProven(run) ? worthAsking(study) : [];
  if (asked.length > 0) {
    const letter = letterData(context, asked);
    put('letter.pdf', renderPaper('letter', letter, options));
    put('letter.txt', letterText(letter));
  }
  return files;
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
