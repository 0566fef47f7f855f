import { execFileSync } from 'node:child_process';
import { type JobInputs, runJob, sheetAnswerOf, studyPrice } from '@gapwright/job';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { handOverFiles } from './hand-over-files.js';
import { makeHandOver } from './make-hand-over.js';
import { type MadePaper, makePaper, type PaperAsk } from './make-paper.js';
import { plainSheet } from './plain-sheet.js';
import { askedOf, demoInputs, unprovableInputs } from './testing/demo-inputs.js';

// A job with papers takes a second; on a machine busy with other tests, many times that.
vi.setConfig({ testTimeout: 180_000 });

const DAY = '2026-11-25';
const ask = (kind: PaperAsk['kind'], more: Partial<PaperAsk> = {}): PaperAsk => {
  return { kind, form: 'pdf', operation: null, day: DAY, asks: [], ...more };
};
const codes = (problems: readonly { code: string }[]): string[] => problems.map((p) => p.code);
const textOf = (files: readonly { fileName: string; bytes: Uint8Array }[], name: string): string =>
  new TextDecoder().decode(files.find((f) => f.fileName === name)?.bytes);

/** What an independent program reads in a PDF. */
function pdfWords(made: MadePaper | null): string {
  if (made === null || !('pdf' in made)) throw new Error('no PDF was made');
  return execFileSync('pdftotext', ['-layout', '-', '-'], { input: made.pdf, encoding: 'utf8' }).replace(/\s+/g, ' ');
}

/** `627.54`, as papers print money. */
const money = (value: number): string => value.toFixed(2).replace(/\B(?=(\d{3})+(?!\d))/g, ',');

describe('the files of an offer', () => {
  const inputs = demoInputs('blade-punch');
  const run = runJob(inputs);
  const files = handOverFiles(run, inputs, DAY);

  it('are drawing, job, program, shapes, papers and letter, the same bytes every time', () => {
    expect(files.map((f) => f.fileName)).toEqual([
      'blade-punch.dxf',
      'job.json',
      'op20.nc',
      'op20-offset-paths.dxf',
      'op20-picture.svg',
      'op20-set-up-sheet.pdf',
      'quotation.pdf',
      'route-card.pdf',
      'letter.pdf',
      'letter.txt',
    ]);
    const again = handOverFiles(runJob(inputs), inputs, DAY);
    for (const [i, { fileName, bytes }] of files.entries())
      expect([fileName, Buffer.from(again[i]!.bytes).equals(Buffer.from(bytes))]).toEqual([fileName, true]);
  });

  it('never put one file over another', () => {
    const drawing = { ...inputs.drawing, fileName: 'op20-offset-paths.dxf' };
    const renamed = handOverFiles(run, { ...inputs, drawing }, DAY);
    const names = renamed.map((f) => f.fileName);
    expect(new Set(names).size).toBe(names.length);
    expect(renamed[0]).toEqual({ fileName: 'drawing-op20-offset-paths.dxf', bytes: drawing.bytes });
    expect(JSON.parse(textOf(renamed, 'job.json')).drawing).toBe('drawing-op20-offset-paths.dxf');
  });

  it('tell the customer prices, and nothing of costs, margin or risk', () => {
    const { offer } = run;
    const letter = textOf(files, 'letter.txt');
    expect(letter).toContain(`${money(offer!.unitPrice.value)} EUR`);
    const secrets = [offer!.expectedUnitCost, offer!.costs.perPiece, ...offer!.atRisk.map((r) => r.unitPrice)];
    for (const secret of secrets) expect(letter).not.toContain(money(secret.value));
    expect(letter).not.toMatch(/margin|risk|burning time|per hour/i);
  });

  it('hold no letter when nothing saves enough, and only drawing and job when the job is stopped', () => {
    const study = { ...studyPrice(run, inputs), drivers: [] };
    expect(handOverFiles(run, inputs, DAY, study).map((f) => f.fileName)).not.toContain('letter.pdf');
    const stopped = demoInputs('blade-punch', { heightMm: 5000 });
    const names = handOverFiles(runJob(stopped), stopped, DAY).map((f) => f.fileName);
    expect(names).toEqual(['blade-punch.dxf', 'job.json']);
  });

  it('hold no letter while a proof fails', () => {
    const unproved = unprovableInputs('blade-punch');
    const names = handOverFiles(runJob(unproved), unproved, DAY).map((f) => f.fileName);
    expect(names).toContain('op20-set-up-sheet.pdf');
    expect(names).not.toContain('letter.pdf');
    expect(names).not.toContain('letter.txt');
  });
});

describe('an offer to keep', () => {
  const inputs = demoInputs('blade-die-plate');
  const asked = askedOf(inputs);

  it('says what the run says and holds the whole answer as plain JSON', () => {
    const { value, problems } = makeHandOver(inputs, DAY, asked);
    const run = runJob(inputs);
    expect(problems).toEqual(run.problems);
    expect(value).toMatchObject({
      quantity: inputs.job.quantity,
      unitPrice: run.offer!.unitPrice.value,
      currency: 'EUR',
      lossRisk: run.offer!.lossRisk.value,
    });
    const answer = sheetAnswerOf(asked);
    const kept = JSON.parse(JSON.stringify(value!.sheet));
    expect(kept).toEqual(JSON.parse(JSON.stringify(plainSheet(answer))));
    expect(kept.plan.programs).toEqual(Object.fromEntries(run.programs.map((p) => [p.fileName, p.text])));
    const walk = answer.scene!.walks[0]!;
    expect(walk.endMin.length).toBeGreaterThan(10);
    expect(Float64Array.from(kept.scene.walks[0].endMin)).toEqual(walk.endMin);
    expect(Float64Array.from(kept.scene.layers[0].paths.values)).toEqual(answer.scene!.layers[0]!.paths.values);
  });

  it('holds the documents of plan and price for a job without a sheet', () => {
    const { value } = makeHandOver(inputs, DAY);
    expect(value!.sheet).toMatchObject({
      plan: { document: 'gapwright-plan-1', file: 'blade-die-plate.dxf' },
      price: { document: 'gapwright-price-1' },
    });
  });

  it('is refused with a way out', () => {
    const refused: [JobInputs, string, string][] = [
      [inputs, '2026-02-30', 'HAND-OVER-BAD-DAY'],
      [demoInputs('blade-die-plate', { heightMm: 5000 }), DAY, 'HAND-OVER-STOPPED'],
      [unprovableInputs('blade-die-plate'), DAY, 'HAND-OVER-NOT-PROVEN'],
    ];
    for (const [of, day, code] of refused) {
      const { value, problems } = makeHandOver(of, day);
      expect(value).toBeNull();
      expect(problems[0]).toMatchObject({ code, severity: 'stop' });
    }
  });
});

describe('one paper', () => {
  const inputs = demoInputs('blade-punch');
  let files: ReturnType<typeof handOverFiles>;
  beforeAll(() => {
    files = handOverFiles(runJob(inputs), inputs, DAY);
  });

  it.each([
    ['quotation', 'quotation.pdf'],
    ['route-card', 'route-card.pdf'],
    ['set-up-sheet', 'op20-set-up-sheet.pdf'],
    ['letter', 'letter.pdf'],
  ] as const)('%s is the file of the hand-over, and can be looked at', (kind, fileName) => {
    const { value } = makePaper(ask(kind), inputs);
    const pdf = value !== null && 'pdf' in value ? Buffer.from(value.pdf) : null;
    expect(pdf?.equals(Buffer.from(files.find((f) => f.fileName === fileName)!.bytes))).toBe(true);
    const looked = makePaper(ask(kind, { form: 'svg' }), inputs).value;
    expect(looked !== null && 'pages' in looked && looked.pages.every((p) => p.startsWith('<svg '))).toBe(true);
  });

  it('is refused with a way out', () => {
    const refusals: [PaperAsk, JobInputs, string, string][] = [
      [ask('quotation', { day: 'tomorrow' }), inputs, 'HAND-OVER-BAD-DAY', 'Write the day'],
      [ask('set-up-sheet', { operation: 30 }), inputs, 'HAND-OVER-NO-PROGRAM', 'operation 20'],
      [ask('letter', { asks: ['radius:B99'] }), inputs, 'HAND-OVER-NO-SUCH-CHANGE', 'Choose from radius:'],
      [ask('route-card'), demoInputs('blade-punch', { heightMm: 5000 }), 'HAND-OVER-STOPPED', 'Solve what'],
      [ask('quotation'), unprovableInputs('blade-punch'), 'HAND-OVER-NOT-PROVEN', 'op20.nc'],
      [ask('letter'), unprovableInputs('blade-punch'), 'HAND-OVER-NOT-PROVEN', 'op20.nc'],
    ];
    for (const [asked, of, code, way] of refusals) {
      const { value, problems } = makePaper(asked, of);
      expect(value).toBeNull();
      expect(problems[0]).toMatchObject({ code, severity: 'stop' });
      expect(problems[0]!.message).toContain(way);
    }
  });

  it('for the floor says that the proof failed', () => {
    const { value, problems } = makePaper(ask('set-up-sheet'), unprovableInputs('blade-punch'));
    expect(codes(problems)).not.toContain('HAND-OVER-NOT-PROVEN');
    expect(pdfWords(value)).toContain('PROOF FAILED: DO NOT RUN');
  });
});
