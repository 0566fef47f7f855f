import { expect, test } from 'vitest';
import { demoJob } from '../testing/demo-jobs.js';
import type { SheetAnswer } from './sheet-answer.js';
import type { SheetInputs } from './sheet-inputs.js';
import { NO_ANSWER, patchAnswer } from './sheet-patch.js';
import { SheetSession } from './sheet-session.js';

const demo = demoJob('blade-die-plate');
const session = new SheetSession();

function answerTo(inputs: SheetInputs): SheetAnswer {
  let answer = NO_ANSWER;
  for (const { patch } of session.answer(inputs, ['read', 'planned'])) answer = patchAnswer(answer, patch);
  return answer;
}

/** A drawing file as text. */
function drawing(text: string): SheetInputs['drawing'] {
  return { sha256: text, fileName: 'part.dxf', bytes: new TextEncoder().encode(text) };
}

const dxf = (units: number, ...entities: string[]): string =>
  [
    '0',
    'SECTION',
    '2',
    'HEADER',
    '9',
    '$INSUNITS',
    '70',
    `${units}`,
    '0',
    'ENDSEC',
    '0',
    'SECTION',
    '2',
    'ENTITIES',
    ...entities,
    '0',
    'ENDSEC',
    '0',
    'EOF',
    '',
  ].join('\n');
const circle = (x: number, r: number, layer = 'CUT'): string => `0\nCIRCLE\n8\n${layer}\n10\n${x}\n20\n0\n40\n${r}`;
const line = '0\nLINE\n8\nCUT\n10\n0\n20\n0\n11\n30\n21\n0';

const fields = (answer: SheetAnswer): string[] => answer.questions.map((q) => q.field);

test('an empty job asks for everything, drawing first, and plans nothing', () => {
  const answer = answerTo({ ...demo, draft: {}, drawing: null });
  expect(fields(answer)).toEqual(['drawing', 'material', 'heightMm', 'toleranceMm', 'raUm', 'quantity']);
  expect(answer.plan).toBeNull();
});

test('with open questions the drawing is there and the plan is not', () => {
  const { quantity: _quantity, ...draft } = demo.draft;
  const answer = answerTo({ ...demo, draft });
  expect(fields(answer)).toEqual(['quantity']);
  expect(answer.scene!.layers.length).toBeGreaterThan(0);
  expect(answer.drawing!.contours.length).toBe(6);
  expect(answer.plan).toBeNull();
  expect(fields(answerTo(demo))).toEqual([]);
});

test('units nobody stated are asked for, with the size each would give', () => {
  const { units: _units, ...draft } = demo.draft;
  const answer = answerTo({ ...demo, draft, drawing: drawing(dxf(0, circle(20, 20))) });
  const units = answer.questions.find((q) => q.field === 'units')!;
  expect(units.choices.slice(0, 2).map((c) => c.says)).toEqual([
    'millimetres: 40.0 x 40.0 mm',
    'inches: 1016 x 1016 mm',
  ]);
  expect(fields(answerTo({ ...demo, draft, drawing: drawing(dxf(3, circle(20, 20))) }))).toContain('units');
  expect(fields(answerTo({ ...demo, draft, drawing: drawing(dxf(4, circle(20, 20))) }))).not.toContain('units');
});

test('open contours ask for the side of the part, and layers of notes for what is cut', () => {
  const { cutLayers: _cut, ...draft } = demo.draft;
  const open = answerTo({ ...demo, draft, drawing: drawing(dxf(4, line)) });
  expect(fields(open)).toEqual(['openPartSide']);
  const notes = answerTo({ ...demo, draft, drawing: drawing(dxf(4, circle(0, 5), circle(0, 50, 'Frame A3'))) });
  const ask = notes.questions.find((q) => q.field === 'cutLayers')!;
  expect(ask.suggestion!.value).toEqual(['CUT']);
});

test('what the enquiry says is suggested with its place and never filled in', () => {
  const enquiryText = 'Please quote 6 pcs in D2, 24 mm thick or 30 mm thick.';
  const answer = answerTo({ ...demo, draft: { units: 'mm', cutLayers: ['OPENING'], enquiryText } });
  const of = (field: string) => answer.questions.find((q) => q.field === field)!;
  expect(of('quantity').suggestion).toEqual({ value: 6, says: '6 pieces: the enquiry says “6 pcs” (letter 14)' });
  expect(of('material').suggestion!.value).toBe('D2');
  expect(of('heightMm').suggestion).toBeNull();
  expect(of('heightMm').choices.map((c) => c.value)).toEqual(['24', '30']);
  expect(answer.plan).toBeNull();
});
