import type { ShopBook } from '@gapwright/process';
import type { DrawingRun } from '../read-drawing.js';
import type { DraftJob } from './draft-job.js';
import type { Question } from './sheet-answer.js';

/** What is still to be answered before the job can be planned, in the order it is asked. */
export function questionsOf(draft: DraftJob, run: DrawingRun | null, book: ShopBook): Question[] {
  const out: Question[] = [];
  const ask = (question: Omit<Question, 'suggestion' | 'choices'> & Partial<Question>): void => {
    out.push({ suggestion: null, choices: [], ...question });
  };
  if (run === null || run.isBroken) {
    ask({
      field: 'drawing',
      asks: 'Which drawing is it?',
      because: 'Contours, sizes and features are read from a DXF file.',
    });
  }
  if (run?.profile?.unitsAssumed) {
    const { minX, minY, maxX, maxY } = run.profile.boxMm;
    const size = (factor: number): string =>
      `${shortMm((maxX - minX) * factor)} x ${shortMm((maxY - minY) * factor)} mm`;
    ask({
      field: 'units',
      asks: 'In which units is it drawn?',
      because: 'The file does not say, and every size follows from it.',
      choices: [
        { value: 'mm', says: `millimetres: ${size(1)}` },
        { value: 'in', says: `inches: ${size(MM_PER_INCH)}` },
        { value: 'cm', says: `centimetres: ${size(10)}` },
      ],
    });
  }
  if (run !== null && draft.openPartSide === undefined && hasOpenCut(run, draft)) {
    ask({
      field: 'openPartSide',
      asks: 'On which side of the open contours is the part, in drawn direction?',
      because: 'A contour that does not close does not say which side is cut away.',
      choices: [
        { value: 'left', says: 'left of the drawn direction' },
        { value: 'right', says: 'right of the drawn direction' },
      ],
    });
  }
  if (draft.material === undefined) {
    ask({
      field: 'material',
      asks: 'Which material?',
      because: 'Burning rate, finish and cautions follow from it.',
      choices: book.materials
        .filter((m) => m.isConductive)
        .map((m) => ({ value: m.id, says: [m.name, ...m.aliases].join(', ') })),
    });
  }
  if (draft.heightMm === undefined) {
    ask({ field: 'heightMm', asks: 'How high is the work, mm?', because: 'Speed, wire and stacking follow from it.' });
  }
  if (draft.toleranceMm === undefined) {
    ask({
      field: 'toleranceMm',
      asks: 'Which profile tolerance, plus or minus, mm?',
      because: 'It decides how many passes are needed and what the proof must reach.',
    });
  }
  if (draft.raUm === undefined) {
    ask({ field: 'raUm', asks: 'Which surface, Ra in µm?', because: 'The last pass is chosen by it.' });
  }
  if (draft.quantity === undefined) {
    ask({ field: 'quantity', asks: 'How many pieces?', because: 'Stacks, set-ups and the price follow from it.' });
  }
  return out;
}

/** One inch is 25.4 mm by definition. */
const MM_PER_INCH = 25.4;

function shortMm(mm: number): string {
  return mm >= 100 ? mm.toFixed(0) : mm.toFixed(1);
}

function hasOpenCut(run: DrawingRun, draft: DraftJob): boolean {
  return run.contours.some(
    (c) => c.role === 'open' && (draft.cutLayers === undefined || draft.cutLayers.includes(c.layer)),
  );
}
