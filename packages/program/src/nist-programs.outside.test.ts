import { outsideCheck } from '@gapwright/base/testing';
import { segmentLengthMm } from '@gapwright/geometry';
import Interpreter from 'gcode-interpreter';
import { describe, expect, it } from 'vitest';
import { motionSegments } from './arc-motion.js';
import type { Motion } from './motion.js';
import { readProgram } from './read-program.js';
import { gcodeFixture, millingPost } from './testing/milling-post.js';
import { scanWords } from './testing/scan-words.js';

const REPORT = 'NIST RS274/NGC Interpreter Version 3, NISTIR 6556 (2000)';

function read(name: string, unit: 'mm' | 'inch', position?: { x: number; y: number }): Motion[] {
  const { value, problems } = readProgram(gcodeFixture(name), millingPost(unit, position ? { position } : {}));
  expect(problems).toEqual([]);
  return value!;
}

describe('worked programs of the NIST report', () => {
  it('gives every answer printed in the comments of the expression program', () => {
    const motions = read('c2.ngc', 'mm', { x: 0, y: 0 });
    const answers = new Map<number, { readonly value: number; readonly digits: number }>();
    gcodeFixture('c2.ngc')
      .split('\n')
      .forEach((text, i) => {
        const printed = /x should be (-?\d+(?:\.(\d+))?)/.exec(text);
        if (printed !== null) answers.set(i + 1, { value: Number(printed[1]), digits: printed[2]?.length ?? 0 });
      });
    expect(answers.size).toBe(44);
    let worst = 0;
    for (const [lineNumber, { value }] of answers) {
      const motion = motions.find((m) => m.kind === 'line' && m.place.line === lineNumber);
      if (motion?.kind !== 'line') throw new Error(`line ${lineNumber} gives no motion`);
      worst = Math.max(worst, Math.abs(motion.to.x - value));
    }
    outsideCheck({
      id: 'program-expressions-nist-c2',
      what: 'largest difference over the 44 answers printed in the expression program',
      ours: worst,
      theirs: 0,
      unit: 'mm',
      allowed: 7.2e-4,
      why: 'arguments are printed to four decimals: atan[1.7321] differs from the printed 60 degrees by 0.25 rad × 0.00005',
      source: `${REPORT}, appendix, program c2`,
      standing: 'published',
    });
  });

  it('keeps the engraving program between the bounds its comment states', () => {
    const motions = read('c1.ngc', 'mm');
    const xs = motions.flatMap((m) => (m.kind === 'line' || m.kind === 'rapid' ? [m.from.x, m.to.x] : []));
    const source = `${REPORT}, appendix, program c1`;
    const common = {
      unit: 'mm',
      allowed: 0,
      why: 'both are whole numbers in the text',
      source,
      standing: 'published',
    } as const;
    outsideCheck({
      id: 'program-nist-c1-min-x',
      what: 'smallest X of the engraving',
      ours: Math.min(...xs),
      theirs: 0,
      ...common,
    });
    outsideCheck({
      id: 'program-nist-c1-max-x',
      what: 'largest X of the engraving',
      ours: Math.max(...xs),
      theirs: 81,
      ...common,
    });
  });
});

interface PlanePath {
  lines: number;
  arcs: number;
  lengthMm: number;
}

/** Plane path length with the library driving: its own words and modal motion, angles by our own short sum. */
function interpreted(text: string): PlanePath {
  const out: PlanePath = { lines: 0, arcs: 0, lengthMm: 0 };
  let x = 0;
  let y = 0;
  const inchMm = 25.4;
  const to = (a: Readonly<Record<string, number>>): [number, number] => [
    (a.X ?? x / inchMm) * inchMm,
    (a.Y ?? y / inchMm) * inchMm,
  ];
  const goes = (a: Readonly<Record<string, number>>) => a.X !== undefined || a.Y !== undefined;
  const arc = (a: Readonly<Record<string, number>>, clockwise: boolean): void => {
    const [ex, ey] = to(a);
    const cx = x + (a.I ?? 0) * inchMm;
    const cy = y + (a.J ?? 0) * inchMm;
    let sweep = Math.atan2(ey - cy, ex - cx) - Math.atan2(y - cy, x - cx);
    if (clockwise) sweep = -sweep;
    while (sweep <= 1e-12) sweep += 2 * Math.PI;
    out.arcs++;
    out.lengthMm += Math.hypot(x - cx, y - cy) * sweep;
    [x, y] = [ex, ey];
  };
  const rapid = (a: Readonly<Record<string, number>>): void => {
    [x, y] = to(a);
  };
  new Interpreter({
    handlers: {
      G0: rapid,
      // The library gives a block's numbers to the G word before them; in `G0 G90 G54 X Y` that is G54.
      G54: rapid,
      G1: (a) => {
        if (!goes(a)) return;
        const [ex, ey] = to(a);
        out.lines++;
        out.lengthMm += Math.hypot(ex - x, ey - y);
        [x, y] = [ex, ey];
      },
      G2: (a) => arc(a, true),
      G3: (a) => arc(a, false),
    },
  }).loadFromStringSync(text);
  return out;
}

function ours(motions: readonly Motion[]): PlanePath {
  const out: PlanePath = { lines: 0, arcs: 0, lengthMm: 0 };
  for (const m of motions) {
    if (m.kind !== 'line' && m.kind !== 'arc') continue;
    out[m.kind === 'line' ? 'lines' : 'arcs']++;
    for (const s of motionSegments(m)) out.lengthMm += segmentLengthMm(s);
  }
  return out;
}

describe('public milling programs', () => {
  for (const name of ['box-front.nc', 'cover.nc']) {
    it(`reads ${name} as an independent interpreter does`, () => {
      const text = gcodeFixture(name);
      const mine = ours(read(name, 'inch'));
      const other = interpreted(text);
      const common = { source: 'gcode-interpreter 3.0.0 (npm)', standing: 'library' } as const;
      const count = { allowed: 0, why: 'both count', unit: '1', ...common };
      outsideCheck({
        id: `program-${name}-lines`,
        what: `straight cuts in ${name}`,
        ours: mine.lines,
        theirs: other.lines,
        ...count,
      });
      outsideCheck({
        id: `program-${name}-arcs`,
        what: `arcs in ${name}`,
        ours: mine.arcs,
        theirs: other.arcs,
        ...count,
      });
      outsideCheck({
        id: `program-${name}-length`,
        what: `cut length in the plane of ${name}`,
        ours: mine.lengthMm,
        theirs: other.lengthMm,
        unit: 'mm',
        allowed: 1e-6,
        why: 'sums of some thousand rounded terms in another order',
        ...common,
      });
      const words = scanWords(text, millingPost('inch'));
      const theirs = new Interpreter({}).loadFromStringSync(text).flatMap((l) => (l.words.length > 0 ? [l.words] : []));
      expect(words).toEqual(theirs);
    });
  }

  it('reads the programs with parameters and compensation', () => {
    const counts = ['fixture.nc', 'part-op1.nc'].map((name) => {
      const motions = read(name, 'inch');
      const on = motions.filter((m) => m.kind === 'compensation' && m.side === 'left').length;
      const off = motions.filter((m) => m.kind === 'compensation' && m.side === 'off').length;
      expect(on).toBe(off);
      return on;
    });
    const g41 = ['fixture.nc', 'part-op1.nc'].map((name) => gcodeFixture(name).match(/G41 D/g)!.length);
    expect(counts).toEqual(g41);
  });
});
