import type { ShopBook } from '@gapwright/process';
import { readEnquiry } from '../enquiry/read-enquiry.js';
import type { DrawingRun } from '../read-drawing.js';
import type { DraftJob } from './draft-job.js';
import { REQUIRED_FIELDS } from './job-of-draft.js';
import type { Question } from './sheet-answer.js';
import { hintFrom } from './suggest.js';

/** What is still to be answered before the job can be planned, in the order it is asked. */
export function questionsOf(draft: DraftJob, run: DrawingRun | null, book: ShopBook): Question[] {
  const out: Question[] = [];
  // Reading the letter again for a job without open fields would slow down every what-if.
  const isOpen = REQUIRED_FIELDS.some((field) => draft[field] === undefined);
  const facts = isOpen && draft.enquiryText !== undefined ? readEnquiry(draft.enquiryText, book) : [];
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
  if (run?.problems.some((p) => p.code === 'DXF-UNITS-UNKNOWN')) {
    ask({
      field: 'units',
      asks: 'In which units is it drawn?',
      because: 'The file names units that are not used for parts.',
      choices: ['mm', 'in', 'cm', 'm', 'um', 'ft'].map((value) => ({ value, says: value })),
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
  const layers = doubtfulLayers(run, draft);
  if (layers !== null) {
    ask({
      field: 'cutLayers',
      asks: 'Which layers are to be cut?',
      because: `${layers.notes.join(', ')} ${layers.notes.length === 1 ? 'looks' : 'look'} like notes or a frame, and what is cut is cut.`,
      suggestion: layers.rest.length === 0 ? null : { value: layers.rest, says: `all but ${layers.notes.join(', ')}` },
      choices: layers.all.map((name) => ({ value: name, says: name })),
    });
  }
  if (draft.material === undefined) {
    const hint = hintFrom(facts, 'material');
    ask({
      suggestion: hint.suggestion,
      field: 'material',
      asks: 'Which material?',
      because: 'Burning rate, finish and cautions follow from it.',
      choices: materialChoices(book, hint.choices),
    });
  }
  if (draft.heightMm === undefined) {
    ask({
      field: 'heightMm',
      asks: 'How high is the work, mm?',
      because: 'Speed, wire and stacking follow from it.',
      ...hintFrom(facts, 'heightMm'),
    });
  }
  if (draft.toleranceMm === undefined) {
    ask({
      field: 'toleranceMm',
      asks: 'Which profile tolerance, plus or minus, mm?',
      because: 'It decides how many passes are needed and what the proof must reach.',
      ...hintFrom(facts, 'toleranceMm'),
    });
  }
  if (draft.raUm === undefined) {
    ask({
      field: 'raUm',
      asks: 'Which surface, Ra in µm?',
      because: 'The last pass is chosen by it.',
      ...hintFrom(facts, 'raUm'),
    });
  }
  if (draft.quantity === undefined) {
    ask({
      field: 'quantity',
      asks: 'How many pieces?',
      because: 'Stacks, set-ups and the price follow from it.',
      ...hintFrom(facts, 'quantity'),
    });
  }
  return out;
}

/** All materials that burn; those the enquiry names come first and say so. */
function materialChoices(book: ShopBook, named: Question['choices']): Question['choices'] {
  const others = book.materials
    .filter((m) => m.isConductive && !named.some((n) => n.value === m.id))
    .map((m) => ({ value: m.id, says: [m.name, ...m.aliases].join(', ') }));
  return [...named, ...others];
}

/** One inch is 25.4 mm by definition. */
const MM_PER_INCH = 25.4;

/** Names drawings give to layers that hold no part: notes, dimensions, frames (common practice). */
const NOTE_LAYER =
  /(?:^|[^a-z])(?:notes?|text|dims?|dimensions?|frame|border|title|sheet|legend|defpoints|centre ?lines?|center ?lines?|rahmen|schrift|bema(?:ss|ß)ung|hilfslinien|mittellinien?)(?:$|[^a-z])/i;

/** Layers with contours of which some look like notes, while nobody said what to read or cut. */
function doubtfulLayers(
  run: DrawingRun | null,
  draft: DraftJob,
): { readonly all: string[]; readonly notes: string[]; readonly rest: string[] } | null {
  if (run === null || draft.cutLayers !== undefined || draft.layers !== undefined) return null;
  const all = [...new Set((run.profile?.contours ?? []).map((c) => c.layer))];
  const notes = all.filter((name) => NOTE_LAYER.test(name));
  return notes.length === 0 ? null : { all, notes, rest: all.filter((name) => !notes.includes(name)) };
}

function shortMm(mm: number): string {
  return mm >= 100 ? mm.toFixed(0) : mm.toFixed(1);
}

function hasOpenCut(run: DrawingRun, draft: DraftJob): boolean {
  return run.contours.some(
    (c) => c.role === 'open' && (draft.cutLayers === undefined || draft.cutLayers.includes(c.layer)),
  );
}
