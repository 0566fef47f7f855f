import { execFileSync } from 'node:child_process';
import { type PriceDriver, priceDriverId } from '@gapwright/costing';
import { type JobInputs, runJob, studyPrice } from '@gapwright/job';
import { lengthText, letterText } from '@gapwright/papers';
import { describe, expect, it, vi } from 'vitest';
import { chosenSavings } from './chosen-savings.js';
import { makePaper } from './make-paper.js';
import type { PaperContext } from './paper-data/context.js';
import { cornersUnder, cornerWords, ringed } from './paper-data/inside-corners.js';
import { letterData } from './paper-data/letter.js';
import { worthAsking } from './paper-data/savings.js';
import { demoInputs } from './testing/demo-inputs.js';

// A job with papers takes a second; on a machine busy with other tests, many times that.
vi.setConfig({ testTimeout: 180_000 });

function contextOf(inputs: JobInputs): PaperContext {
  const run = runJob(inputs);
  const { plan, offer } = run;
  if (plan === null || offer === null) throw new Error(run.problems.map((p) => p.message).join('\n'));
  return { run, plan, offer, study: studyPrice(run, inputs), inputs, date: '2026-11-25' };
}

const punch = contextOf(demoInputs('blade-punch'));
const { drivers } = punch.study;
const byId = (id: string): PriceDriver => drivers.find((d) => priceDriverId(d) === id)!;

it('gives every change of a job an id of its own that does not depend on prices', () => {
  const ids = drivers.map(priceDriverId);
  expect(ids.filter((id) => id.startsWith('radius:')).length).toBeGreaterThan(2);
  expect(new Set(ids).size).toBe(ids.length);
  const dearer = contextOf(demoInputs('blade-punch', { quantity: 3 })).study.drivers.map(priceDriverId);
  expect([...dearer].sort()).toEqual([...ids].sort());
});

describe('which changes are asked for', () => {
  const kept = worthAsking(punch.study);

  it('are those that save 2 % or more', () => {
    expect(drivers.some((d) => d.saving.value < 0.02)).toBe(true);
    expect(kept.every((d) => d.saving.value >= 0.02)).toBe(true);
    const few = { ...punch.study, drivers: drivers.map((d) => ({ ...d, saving: { ...d.saving, value: 0.019 } })) };
    expect(chosenSavings(few, []).problems[0]?.code).toBe('HAND-OVER-NOTHING-TO-ASK');
  });

  it('hold no radius that a smaller one beats, unless it is chosen', () => {
    const radii = kept.filter((d) => d.id === 'radius');
    expect(radii.length).toBeGreaterThan(1);
    for (const [i, d] of radii.slice(1).entries())
      expect(d.change.agreedCornerRadiusMm!).toBeLessThan(radii[i]!.change.agreedCornerRadiusMm!);
    const beaten = drivers.find((d) => d.id === 'radius' && d.saving.value >= 0.02 && !kept.includes(d))!;
    expect(chosenSavings(punch.study, [priceDriverId(beaten)]).value).toEqual([beaten]);
  });

  it('are the chosen ones, in order of saving', () => {
    const chosen = chosenSavings(punch.study, ['quantity', 'tolerance']).value!;
    expect(chosen.map(priceDriverId)).toEqual(['tolerance', 'quantity']);
  });
});

describe('the letter', () => {
  it('carries the computed price of each change', () => {
    const letter = letterData(punch, [byId('tolerance'), byId('quantity')]);
    expect(letter.unitPrice).toBe(punch.offer.unitPrice.value);
    for (const [i, id] of ['tolerance', 'quantity'].entries())
      expect(letter.changes[i]!.unitPrice).toBeCloseTo(byId(id).unitPrice.value, 9);
    expect(letter.changes.map((c) => c.quantity)).toEqual([undefined, 4 * punch.offer.quantity]);
    expect(letter.changes[0]!.says).toBe('A profile tolerance of ±0.008 mm in place of ±0.004 mm.');
  });

  it("keeps the planner's own price in proportion", () => {
    const own = contextOf(demoInputs('blade-punch', { offer: { unitPrice: 500 } }));
    const tolerance = own.study.drivers.find((d) => d.id === 'tolerance')!;
    const letter = letterData(own, [tolerance]);
    expect(letter.unitPrice).toBe(500);
    expect(letter.changes[0]!.unitPrice).toBeCloseTo(500 * (1 - tolerance.saving.value), 9);
  });

  it('marks the corners that a radius is about', () => {
    const radii = drivers.filter((d) => d.id === 'radius');
    const letter = letterData(punch, radii);
    expect(letter.places).toEqual([
      { label: '(1)', says: expect.stringMatching(/^4 corners of R 0.12 mm, the first at \(/) },
    ]);
    expect(letter.drawing!.places).toHaveLength(4);
    expect(letter.drawing!.places!.filter((p) => p.label !== undefined)).toHaveLength(1);
    for (const change of letter.changes) {
      expect(change.places).toEqual(['(1)']);
      expect(change.says).toMatch(/^Inside corners smaller than R [\d.]+ mm may keep R [\d.]+ mm\.$/);
      expect(change.because).toContain('One of the radii is enough.');
    }
    expect(letterData(punch, radii.slice(0, 1)).changes[0]!.because).not.toContain('One of the radii');
    expect(letterData(punch, [byId('tolerance')])).toMatchObject({ places: [], drawing: { places: [] } });
  });

  it('has words for every kind of change', () => {
    const recast = contextOf(demoInputs('swirler-plate'));
    for (const context of [punch, recast]) {
      const all = letterData(context, context.study.drivers);
      const text = letterText(all);
      expect(text).not.toMatch(/undefined|NaN|null/);
      for (const change of all.changes) expect(change.check).toMatch(/\.$/);
    }
    const words = letterData(
      recast,
      recast.study.drivers.filter((d) => d.id === 'recast'),
    );
    expect(words.changes[0]!.says).toBe('A recast layer of up to 16 µm in place of 8 µm.');
  });

  it('speaks inches when the drawing does', () => {
    const inch = { ...punch, inputs: { ...punch.inputs, job: { ...punch.inputs.job, units: 'in' as const } } };
    expect(letterData(inch, [byId('tolerance')]).changes[0]!.says).toMatch(/±0\.0003 in in place of ±0\.0002 in/);
  });

  it('prints what users wrote as it is, whatever it is', () => {
    const customer = '#panic() $x$ *bold* </text><script>alert(1)</script> \u202eabc';
    const title = `${'W'.repeat(190)} שלום`;
    const inputs = demoInputs('blade-die-plate', { customer, title });
    const ask = { kind: 'letter', operation: null, day: '2026-11-25', asks: [] } as const;
    const made = makePaper({ ...ask, form: 'pdf' }, inputs).value;
    const pdf = made !== null && 'pdf' in made ? made.pdf : new Uint8Array();
    const read = execFileSync('pdftotext', ['-layout', '-', '-'], { input: pdf, encoding: 'utf8' });
    const letters = read.replace(/[\s\u200b\f]+/g, '');
    expect(letters).toContain('#panic()$x$*bold*</text><script>alert(1)</script>abc');
    expect(letters).toContain('WWWW');
    const looked = makePaper({ ...ask, form: 'svg' }, inputs).value;
    const pages = looked !== null && 'pages' in looked ? looked.pages : [];
    expect(pages.length).toBeGreaterThan(0);
    for (const page of pages) expect(page).not.toContain('<script');
  });
});

describe('inside corners', () => {
  const words = (radiusMm: number, name = 'blade-die-plate'): string[] => {
    const { plan } = contextOf(demoInputs(name));
    return cornersUnder(radiusMm, plan).map((g) => cornerWords(g, lengthText('mm')).says.split(',')[0]!);
  };

  it('are grouped by size, smallest first, and only those under the radius', () => {
    expect(words(0.1)).toEqual([]);
    const all = words(50);
    expect(all.length).toBeGreaterThan(1);
    expect(all.length).toBeLessThanOrEqual(6);
    const radii = all.map((w) => Number(/R ([\d.]+)/.exec(w)?.[1] ?? 0));
    expect([...radii].sort((a, b) => a - b)).toEqual(radii);
  });

  it('are all ringed when few, and one of each size when many', () => {
    const at = { x: 0, y: 0 };
    const group = (label: string, n: number) => {
      return { label, radiusMm: 0.1, largestMm: 0.1, places: Array.from({ length: n }, () => at) };
    };
    expect(ringed([group('(1)', 30), group('(2)', 10)])).toHaveLength(40);
    expect(ringed([group('(1)', 30), group('(2)', 11)])).toEqual([
      { at, label: '(1)' },
      { at, label: '(2)' },
    ]);
  });

  it('say sharp, one size, or a range', () => {
    const text = lengthText('mm');
    const at = [{ x: 1, y: -2 }];
    const say = (radiusMm: number, largestMm: number): string =>
      cornerWords({ label: '(1)', radiusMm, largestMm, places: at }, text).says;
    expect(say(0, 0)).toBe('1 corner drawn sharp, at (1.000, −2.000)');
    expect(say(0.12, 0.12)).toBe('1 corner of R 0.12 mm, at (1.000, −2.000)');
    expect(say(0.12, 0.15)).toBe('1 corner of R 0.12 to 0.15 mm, at (1.000, −2.000)');
  });
});
