import { contour, line } from '@gapwright/geometry';
import { type ProgramStep, readProgram } from '@gapwright/program';
import { describe, expect, it } from 'vitest';
import { proveProgram } from './prove.js';
import type { ProofResult } from './result.js';
import { CIRCLE, ELL, INNER_HOLE, PUNCH, SAMPLE_JOBS } from './testing/sample-features.js';
import { asText, motionsOf, POST, type SampleJob, sampleJob } from './testing/sample-jobs.js';

function prove(job: SampleJob, text = asText(job.steps)): ProofResult {
  return proveProgram(motionsOf(text), job.setup, job.features);
}

function codes(result: ProofResult): string[] {
  return [...new Set(result.findings.map((f) => f.code))];
}

function expectFail(result: ProofResult, code: string, words: RegExp): void {
  expect(result.verdict).toBe('fail');
  const found = result.findings.filter((f) => f.code === code);
  expect(found.map((f) => f.message).join('\n')).toMatch(words);
}

describe('a right program passes', () => {
  for (const [name, make] of Object.entries(SAMPLE_JOBS)) {
    for (const passes of [1, 3, 6]) {
      it(`${name}, ${passes} passes`, () => {
        const job = make(passes);
        const result = prove(job);
        expect(result.findings.map((f) => f.message)).toEqual([]);
        expect(result.verdict).toBe('pass');
        expect(result.maxUndercutMm).toBeLessThan(0.0002);
        expect(result.maxRestMm).toBeLessThan(0.0002);
        expect(result.slugs.map((s) => s.planned)).toEqual(job.features.map(() => true));
        for (const f of result.features) {
          for (const [k, p] of f.passes.entries()) {
            expect(p.covered).toBeCloseTo(1, 9);
            if (k === 0) continue;
            // Text holds offsets to 0.1 µm; each end of a stock may be off by one of them and by the path's rounding.
            expect(Math.abs(p.stockMinMm! - job.setup.passes[k]!.stockMm)).toBeLessThan(0.0004);
            expect(Math.abs(p.stockMaxMm! - job.setup.passes[k]!.stockMm)).toBeLessThan(0.0004);
          }
        }
        const times = result.timeLine.map((t) => t.burnMin);
        expect(times.every((t, i) => i === 0 || t >= times[i - 1]!)).toBe(true);
      });
    }
  }

  it('an open cut with the part on its left', () => {
    const open = contour([line({ x: 0, y: 0 }, { x: 20, y: 0 }), line({ x: 20, y: 0 }, { x: 30, y: 8 })], false);
    const job = sampleJob(
      [
        {
          feature: { id: 'F1', kind: 'open', contour: open, partSide: 'left' },
          hole: { x: -1, y: -4 },
          out: { x: 31, y: 6 },
          tabMm: 0,
        },
      ],
      3,
      { plate: { minX: 0.5, minY: -20, maxX: 29.5, maxY: 20 }, startHoles: [] },
    );
    const result = prove(job);
    expect(result.findings.map((f) => f.message)).toEqual([]);
    expect(result.maxUndercutMm).toBeLessThan(0.0002);
    expect(result.maxRestMm).toBeLessThan(0.0002);
    expect(result.slugs).toEqual([]);
  });
});

describe('each seeded fault is found', () => {
  const circle = (n = 3): SampleJob => sampleJob([CIRCLE], n);
  const swapSides = (s: ProgramStep): ProgramStep =>
    s.kind === 'cut' ? { ...s, side: s.side === 'left' ? 'right' : 'left' } : s;

  it('compensation to the wrong side', () => {
    for (const make of Object.values(SAMPLE_JOBS)) {
      const job = make(3);
      const result = prove({ ...job, steps: job.steps.map(swapSides) });
      expectFail(result, 'PROOF-WRONG-SIDE', /Line \d+: the wire runs inside the part/);
      // Offset and radius of the rough cut on the wrong side of the line.
      expect(result.maxUndercutMm).toBeGreaterThan(0.3);
    }
  });

  it.each([1, 2, 3])('register %i off by 5 µm', (register) => {
    const job = circle();
    const steps = job.steps.map((s) =>
      s.kind === 'set-register' && s.register.number === register
        ? { ...s, register: { ...s.register, offsetMm: s.register.offsetMm + 0.005 } }
        : s,
    );
    const result = prove({ ...job, steps });
    expectFail(result, 'PROOF-REGISTER-VALUE', new RegExp(`register ${register} holds`));
    // Geometry tells as well: the last pass leaves 5 µm, the others change the stock of the pass after.
    if (register === 3) {
      expectFail(result, 'PROOF-REST', /F1: 5\.0 µm of material stays/);
      expect(result.maxRestMm).toBeCloseTo(0.005, 4);
    } else {
      const later = result.features[0]!.passes[register]!;
      expect(later.stockMinMm! - job.setup.passes[register]!.stockMm).toBeCloseTo(0.005, 3);
      expectFail(result, 'PROOF-STOCK', /F1, pass \d: takes/);
    }
  });

  it('a set-up whose offsets fit the faulty register does not hide the undercut', () => {
    const job = circle();
    const passes = job.setup.passes.map((p) => ({ ...p, offsetMm: p.offsetMm - 0.005 }));
    const steps = job.steps.map((s) =>
      s.kind === 'set-register' ? { ...s, register: { ...s.register, offsetMm: s.register.offsetMm - 0.005 } } : s,
    );
    const result = prove({ ...job, steps, setup: { ...job.setup, passes } });
    expectFail(result, 'PROOF-UNDERCUT', /F1: 5\.0 µm too much is cut away/);
    expect(result.maxUndercutMm).toBeCloseTo(0.005, 4);
  });

  it('one arc turned the other way', () => {
    const job = sampleJob([PUNCH], 3);
    const lines = asText(job.steps).split('\n');
    const arcs = lines.flatMap((l, i) => (/G0?[23]\b/.test(l) ? [i] : []));
    for (const i of arcs) {
      const text = lines
        .with(
          i,
          lines[i]!.replace(/G0?([23])\b/, (_, d) => (d === '2' ? 'G03' : 'G02')),
        )
        .join('\n');
      expect(prove(job, text).verdict).toBe('fail');
    }
    expect(arcs.length).toBeGreaterThan(8);
  });

  it('a block missing', () => {
    const job = sampleJob([ELL], 3, { agreedCornerRadiusMm: 0.25 });
    const lines = asText(job.steps).split('\n');
    const cuts = lines.flatMap((l, i) => (/[XY]/.test(l) && !/G4[012]|G0?0\b/.test(l) ? [i] : []));
    let proved = 0;
    for (const i of cuts) {
      const text = lines.toSpliced(i, 1).join('\n');
      // Without its line an arc has no fitting centre: the reader refuses such a text before any proof.
      if (readProgram(text, POST).value === null) continue;
      proved++;
      expect(prove(job, text).verdict, `without ${lines[i]}`).toBe('fail');
    }
    expect(proved).toBeGreaterThanOrEqual(12);
  });

  it('a contour cut before its start hole', () => {
    const startHoles = [{ id: 'H1', centre: { x: 0, y: 0 }, diameterMm: 1.5 }];
    const job = sampleJob([{ ...CIRCLE, hole: { x: 2, y: 0 } }], 3, { startHoles });
    expectFail(prove(job), 'PROOF-THREAD-PLACE', /threaded at \(2\.000, 0\.000\), where no start hole/);
  });

  it('a cut without wire', () => {
    const job = circle();
    const steps = job.steps.filter((s) => s.kind !== 'thread-wire');
    const result = prove({ ...job, steps });
    expectFail(result, 'PROOF-CUT-WITHOUT-WIRE', /without wire/);
    expectFail(result, 'PROOF-REST', /1 mm or more/);
  });

  it('wire dragged through material by a rapid move', () => {
    const job = sampleJob([CIRCLE, INNER_HOLE], 1);
    const first = job.steps.findIndex((s) => s.kind === 'cut-wire');
    const steps = job.steps.toSpliced(first, 1);
    expectFail(prove({ ...job, steps }), 'PROOF-RAPID-THROUGH-MATERIAL', /drags the wire through material/);
  });

  it('a path through a clamp and a rapid through another', () => {
    const keepOuts = [{ id: 'C1', label: 'clamp 1', box: { minX: 4.5, minY: -1, maxX: 9, maxY: 1 } }];
    expectFail(prove(sampleJob([CIRCLE], 3, { keepOuts })), 'PROOF-CUT-INTO-KEEP-OUT', /runs into clamp 1/);
    // Just outside the kerf: 5 mm + 0 wall, nothing may be said.
    const clear = [{ id: 'C1', label: 'clamp 1', box: { minX: 5.001, minY: -1, maxX: 9, maxY: 1 } }];
    expect(codes(prove(sampleJob([CIRCLE], 3, { keepOuts: clear })))).toEqual([]);
    const between = [{ id: 'C2', label: 'clamp 2', box: { minX: 11, minY: -8, maxX: 13, maxY: 8 } }];
    const job = SAMPLE_JOBS['two holes']!(1, { keepOuts: between });
    expectFail(prove(job), 'PROOF-MOVE-THROUGH-KEEP-OUT', /passes through clamp 2/);
  });

  it('a clamp with its corners swapped, which would keep nothing out', () => {
    const keepOuts = [{ id: 'C1', label: 'clamp 1', box: { minX: 9, minY: 1, maxX: 4.5, maxY: -1 } }];
    expectFail(
      prove(sampleJob([CIRCLE], 3, { keepOuts })),
      'PROOF-BAD-KEEP-OUT',
      /clamp 1 \(C1\) .* keeps nothing out/,
    );
  });

  it('a path outside the plate and outside the travel', () => {
    const plate = { minX: -30, minY: -30, maxX: 4.9, maxY: 30 };
    expectFail(prove(sampleJob([CIRCLE], 1, { plate })), 'PROOF-OUTSIDE-PLATE', /breaks through the edge/);
    const travel = { minX: -30, minY: -30, maxX: 4, maxY: 30 };
    expectFail(prove(sampleJob([CIRCLE], 1, { travel })), 'PROOF-OUTSIDE-TRAVEL', /leaves the machine's travel/);
  });

  it('a skim out of order, and one left out', () => {
    const job = circle();
    const cut = (pass: number): number => job.steps.findIndex((s) => s.kind === 'cut' && s.pass === pass);
    const [two, three] = [cut(2), cut(3)];
    const steps = [...job.steps];
    for (const back of [0, 1]) [steps[two - back], steps[three - back]] = [steps[three - back]!, steps[two - back]!];
    expectFail(prove({ ...job, steps }), 'PROOF-PASS-ORDER', /F1, pass 3: runs at .* before pass 2 was there/);
    const without = job.steps.toSpliced(two - 1, 2);
    expectFail(prove({ ...job, steps: without }), 'PROOF-PASS-INCOMPLETE', /F1, pass 2: leaves out 9\d\.\d %/);
    const never = job.steps.filter((s) => s.kind !== 'cut' || s.pass !== 3);
    expectFail(prove({ ...job, steps: never }), 'PROOF-PASS-MISSING', /F1, pass 3: never runs/);
  });

  it('the wrong level for a pass', () => {
    const job = circle();
    const steps = job.steps.map((s) => (s.kind === 'select-level' && s.level === 11 ? { ...s, level: 10 } : s));
    expectFail(prove({ ...job, steps }), 'PROOF-WRONG-LEVEL', /pass 2 runs at level 10, the set-up says 11/);
  });

  it('a tab cut before the slug is held', () => {
    const job = circle();
    const none = job.steps.filter((s) => s.kind !== 'stop');
    const result = prove({ ...job, steps: none });
    expectFail(result, 'PROOF-TAB-NOT-HELD', /the tab of F1 is cut, no stop stands before it/);
    expect(result.slugs).toMatchObject([{ feature: 'F1', planned: false }]);
    const optional = job.steps.map((s) => (s.kind === 'stop' ? { ...s, optional: true } : s));
    expectFail(prove({ ...job, steps: optional }), 'PROOF-TAB-NOT-HELD', /only an optional stop/);
    const uncut = job.steps.slice(
      0,
      job.steps.findIndex((s) => s.kind === 'stop'),
    );
    expectFail(
      prove({ ...job, steps: [...uncut, { kind: 'cut-wire' }] }),
      'PROOF-TAB-NOT-CUT',
      /tab at .* is never cut/,
    );
  });

  it('a slug that falls with nobody there, unless the set-up lets it', () => {
    const job = sampleJob([{ ...CIRCLE, tabMm: 0 }], 1);
    const steps = job.steps.filter((s) => s.kind !== 'stop');
    expectFail(prove({ ...job, steps }), 'PROOF-SLUG-NOT-HELD', /the slug of F1 comes free, no stop/);
    const setup = { ...job.setup, mayFallUnattended: ['F1'] };
    expect(prove({ ...job, steps, setup }).verdict).toBe('pass');
  });

  it('a hole cut after its part came free', () => {
    const job = sampleJob([PUNCH, INNER_HOLE], 1);
    expectFail(prove(job), 'PROOF-CUT-AFTER-FREE', /F5 is cut after its part F2 came free/);
  });

  it('a sharp inside corner without an agreed radius', () => {
    const job = sampleJob([ELL], 3);
    const result = prove(job);
    expectFail(result, 'PROOF-REST', /F3: 58\.0 µm of material stays at \(0\.000, 15\.000\)/);
    // A disc of radius r leaves r (√2 - 1) in a right-angled corner.
    expect(result.maxRestMm).toBeCloseTo((0.125 + 0.015) * (Math.SQRT2 - 1), 4);
  });

  it('an agreed radius smaller than the wire leaves', () => {
    const agreed = 0.1;
    const result = prove(sampleJob([ELL], 3, { agreedCornerRadiusMm: agreed }));
    expect(result.verdict).toBe('fail');
    expect(result.maxRestMm).toBeCloseTo((0.14 - agreed) * (Math.SQRT2 - 1), 4);
  });

  it('an inside arc the wire does not fit into', () => {
    const job = sampleJob([{ ...CIRCLE, tabMm: 0 }], 1);
    const steps = job.steps.map((s) =>
      s.kind === 'set-register' ? { ...s, register: { ...s.register, offsetMm: 6 } } : s,
    );
    expectFail(
      prove({ ...job, steps }),
      'PROOF-ARC-TOO-SMALL',
      /Line \d+: the arc of radius 5\.0000 mm is smaller than the offset 6/,
    );
  });

  it('a feed faster than the set-up sheet states, and never a slower one', () => {
    const job = sampleJob([CIRCLE], 2);
    const passes = job.setup.passes.map((p) => ({ ...p, feedMmPerMin: 6 }));
    const setup = { ...job.setup, passes };
    const withFeed = (feedMmPerMin: number) =>
      job.steps.map((s) =>
        s.kind === 'cut' && s.pass === 2
          ? { ...s, feedMmPerMin }
          : { ...s, ...(s.kind === 'cut' ? { feedMmPerMin: 6 } : {}) },
      );
    expect(prove({ ...job, setup, steps: withFeed(6) }).verdict).toBe('pass');
    expect(prove({ ...job, setup, steps: withFeed(2) }).verdict).toBe('pass');
    expectFail(prove({ ...job, setup, steps: withFeed(300) }), 'PROOF-FEED-FAST', /feed of 300 mm\/min is faster/);
  });
});
