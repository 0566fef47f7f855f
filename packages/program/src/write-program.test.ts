import { arcPieces, line, type Point } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import type { PostDefinition } from './post-definition.js';
import { readProgram } from './read-program.js';
import type { ProgramStep } from './step.js';
import { ISO, OTHER } from './testing/posts.js';
import { writeMotions } from './write-motions.js';
import { firstDifference, writeProgram } from './write-program.js';

const HEAD = { title: 'Slot', notes: ['40 mm'] };
const p = (x: number, y: number): Point => ({ x, y });
type Cut = Extract<ProgramStep, { kind: 'cut' }>;

const CUT: Cut = {
  kind: 'cut',
  feature: 'F1',
  pass: 1,
  side: 'left',
  register: 1,
  feedMmPerMin: 2.4,
  leadIn: [line(p(5, 5), p(5, 0))],
  path: [line(p(5, 0), p(10, 0)), ...arcPieces(p(10, 5), 5, -Math.PI / 2, Math.PI), line(p(10, 10), p(5, 10))],
  leadOut: [line(p(5, 10), p(5, 5))],
};
const REGISTER: ProgramStep = { kind: 'set-register', register: { number: 1, offsetMm: 0.158 } };
const STEPS: ProgramStep[] = [
  REGISTER,
  { kind: 'thread-wire', at: p(5, 5) },
  { kind: 'select-level', level: 1 },
  { kind: 'fluid', on: true },
  CUT,
  { kind: 'stop', reason: 'slug F1 (0.2 kg)', optional: false },
  { kind: 'cut-wire' },
  { kind: 'fluid', on: false },
];

function text(steps: readonly ProgramStep[], post: PostDefinition = ISO): string {
  const { value, problems } = writeProgram(steps, post, HEAD);
  if (value === null) throw new Error(problems[0]!.message);
  return value.text;
}

function stopCodes(steps: readonly ProgramStep[], post: PostDefinition = ISO): string[] {
  const { value, problems } = writeProgram(steps, post, HEAD);
  const stops = problems.filter((q) => q.severity === 'stop').map((q) => q.code);
  expect(value === null).toBe(stops.length > 0);
  return stops;
}

describe('writeProgram', () => {
  it('writes the shipped dialect', () => {
    expect(text(STEPS).split('\r\n')).toEqual([
      '%',
      '(Slot)',
      '(40 mm)',
      'N10 G17 G71 G90',
      'N20 G40',
      'N30 G10 L1 P1 R0.1580',
      'N40 G00 X5. Y5.',
      'N50 M50',
      'N60 S1',
      'N70 M52',
      '(F1 pass 1)',
      'N80 G41 D1 G01 Y0. F2.4',
      'N90 X10.',
      'N100 G03 X10. Y10. I0. J5.',
      'N110 G01 X5.',
      'N120 G40 Y5.',
      'N130 M00 (slug F1 [0.2 kg])',
      'N140 M51',
      'N150 M53',
      'N160 M02',
      '%',
      '',
    ]);
  });

  it('writes a dialect that shares hardly a word with it', () => {
    expect(text(STEPS, OTHER).split('\n')).toEqual([
      '; Slot',
      '; 40 mm',
      'G20',
      'G91',
      'K7L1Z+.00622',
      'G90G100A+.19685B+.19685',
      'M160',
      'T91',
      'M8',
      'G91G141H1G101A+.00000B-.19685E.0945',
      'G101A+.19685B+.00000E.0945',
      'G103A+.00000B+.39370P+.39370Q+.19685E.0945',
      'G101A-.19685B+.00000E.0945',
      'G140G101A+.00000B-.19685E.0945',
      'M0; slug F1 (0.2 kg)',
      'M161',
      'M9',
      'G90',
      'M30',
      '',
    ]);
  });

  it('reminds of the placeholders it used, and only of these', () => {
    const { problems } = writeProgram(STEPS, ISO, HEAD);
    expect(problems.map((q) => [q.code, q.severity])).toEqual([['PROGRAM-PLACEHOLDER', 'info']]);
    expect(problems[0]!.message).toContain('threadWire (M50)');
    const none = writeProgram([{ kind: 'stop', reason: '', optional: true }], ISO, HEAD);
    expect(none.problems).toEqual([]);
  });

  it('moves to the threading place only when it is not there', () => {
    const written = text([
      { kind: 'move', to: p(1, 1) },
      { kind: 'thread-wire', at: p(1, 1) },
      { kind: 'thread-wire', at: p(2, 1) },
    ]);
    expect(written.match(/G00|X\d/g)).toEqual(['G00', 'X1', 'X2']);
  });

  it('does not drift over ten thousand short segments, absolute or incremental', () => {
    const path = Array.from({ length: 10_000 }, (_, i) => line(p(5 + i / 3000, 0), p(5 + (i + 1) / 3000, 0)));
    const end = path.at(-1)!.to;
    const cut = { ...CUT, path, leadOut: [line(end, p(end.x, 5))] };
    for (const post of [ISO, OTHER]) {
      const motions = readProgram(text([REGISTER, { kind: 'move', to: p(5, 5) }, cut], post), post).value!;
      const last = motions.filter((m) => m.kind === 'line').at(-1)!;
      expect(Math.abs(last.to.x - end.x)).toBeLessThanOrEqual(post === ISO ? 0.00005 : 0.000127);
    }
  });

  it('leaves out what is shorter than the last digit and stays on the path', () => {
    const path = Array.from({ length: 1000 }, (_, i) => line(p(5 + i * 1e-5, 0), p(5 + (i + 1) * 1e-5, 0)));
    const end = path.at(-1)!.to;
    const steps = [
      REGISTER,
      { kind: 'move', to: p(5, 5) } as const,
      { ...CUT, path, leadOut: [line(end, p(end.x, 5))] },
    ];
    const lines = readProgram(text(steps), ISO).value!.filter((m) => m.kind === 'line');
    expect(lines.length).toBe(102);
    expect(lines.at(-1)!.to).toEqual({ x: 5.01, y: 5 });
  });

  it('writes a full circle as two half arcs', () => {
    const circle = arcPieces(p(0, 0), 5, -Math.PI / 2, -2 * Math.PI);
    const cut = { ...CUT, leadIn: [line(p(0, 0), p(0, -5))], path: circle, leadOut: [line(p(0, -5), p(0, 0))] };
    const written = text([REGISTER, { kind: 'move', to: p(0, 0) }, cut]);
    expect(written).toContain('G02 X0. Y5. I0. J5.\r\n');
    expect(written).toContain('X0. Y-5. I0. J-5.\r\n');
  });

  it('refuses steps that make no safe program', () => {
    const arcLead = arcPieces(p(5, 2.5), 2.5, Math.PI / 2, Math.PI);
    const move: ProgramStep = { kind: 'move', to: p(5, 5) };
    expect(stopCodes([REGISTER, CUT])).toEqual(['PROGRAM-POSITION-UNKNOWN']);
    expect(stopCodes([move, CUT])).toEqual(['PROGRAM-REGISTER-NOT-SET']);
    expect(stopCodes([REGISTER, move, { ...CUT, leadIn: [] }])).toEqual(['PROGRAM-LEAD']);
    expect(stopCodes([REGISTER, move, { ...CUT, leadIn: arcLead }])).toEqual(['PROGRAM-LEAD']);
    expect(stopCodes([REGISTER, move, { ...CUT, leadOut: [] }])).toEqual(['PROGRAM-LEAD']);
    expect(stopCodes([REGISTER, { kind: 'move', to: p(5, 5.01) }, CUT])).toEqual(['PROGRAM-NOT-CONNECTED']);
    expect(stopCodes([REGISTER, move, { ...CUT, path: CUT.path.slice(1) }])).toEqual(['PROGRAM-NOT-CONNECTED']);
    expect(stopCodes([REGISTER, move, { ...CUT, feedMmPerMin: 0.0001 }])).toEqual(['PROGRAM-BAD-FEED']);
    expect(stopCodes([REGISTER, move, { ...CUT, feedMmPerMin: Number.NaN }])).toEqual(['PROGRAM-BAD-FEED']);
    expect(stopCodes([{ kind: 'move', to: p(Number.NaN, 0) }])).toEqual(['PROGRAM-POSITION']);
    const far = writeProgram([{ kind: 'move', to: p(1e6 + 15, 0) }], ISO, HEAD).problems[0]!;
    expect(far.code).toBe('PROGRAM-POSITION');
    expect(far.message).toContain('Move the part near the zero of the drawing');
    expect(stopCodes([{ kind: 'set-register', register: { number: 0, offsetMm: 0.1 } }])).toEqual([
      'PROGRAM-BAD-REGISTER',
    ]);
    expect(stopCodes([{ kind: 'set-register', register: { number: 1, offsetMm: -0.1 } }])).toEqual([
      'PROGRAM-BAD-OFFSET',
    ]);
    expect(stopCodes([{ kind: 'select-level', level: 9 }], OTHER)).toEqual(['PROGRAM-BAD-LEVEL']);
    const still = { ...CUT, leadIn: [line(p(5, 5), p(5, 5.00001)), line(p(5, 5.00001), p(5, 0))] };
    expect(stopCodes([REGISTER, move, still])).toEqual(['PROGRAM-LEAD']);
  });

  it('refuses an arc that its rounded numbers could not follow', () => {
    // Its sweep contradicts its ends and centre, so no centre keeps its middle where it was.
    const bent = { kind: 'arc', from: p(5, 0), to: p(9, 0), centre: p(7, 0), radiusMm: 2, sweepRad: -1 } as const;
    const cut = { ...CUT, path: [bent], leadOut: [line(p(9, 0), p(9, 5))] };
    expect(stopCodes([REGISTER, { kind: 'move', to: p(5, 5) }, cut])).toEqual(['PROGRAM-ARC-DEVIATES']);
  });

  it('keeps comments within the post: characters, length, line breaks', () => {
    const note = `µ ☃ (a)\nb ${'word '.repeat(40)}`;
    const { value, problems } = writeProgram([{ kind: 'note', text: note }], ISO, { title: '', notes: [] });
    const comments = value!.text.match(/\(.*\)/g)!;
    expect(comments[0]).toMatch(/^\(u \? \[a\] b word/);
    expect(comments.length).toBe(3);
    for (const c of comments) expect(c.length).toBeLessThanOrEqual(74);
    expect(problems.map((q) => [q.code, q.severity])).toEqual([['PROGRAM-COMMENT-CHARACTER', 'info']]);
  });
});

describe('writeMotions', () => {
  it('writes what was read so that it reads the same', () => {
    const odd = 'G71 G90\nG10 L1 P3 R0.2\nG00 X1. Y1.\nG42 D3\nG01 F3. X2.\nX2.\nG91 Y1. F4.\nG40\n(a)\nG00 X1.\nM02';
    const { value } = readProgram(odd, ISO);
    for (const post of [ISO, { ...ISO, repeat: { motionWord: true, coordinates: true, feed: true } }]) {
      const again = readProgram(writeMotions(value!, post), post);
      expect(again.problems).toEqual([]);
      expect(firstDifference(again.value!, value!)).toBeNull();
    }
  });
});
