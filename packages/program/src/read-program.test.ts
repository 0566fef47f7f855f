import { describe, expect, it } from 'vitest';
import type { Motion } from './motion.js';
import type { PostDefinition } from './post-definition.js';
import { readProgram } from './read-program.js';
import { ISO, isoJson, isoWith, OTHER } from './testing/posts.js';
import { firstDifference } from './write-program.js';

const HEAD = 'G17 G71 G90\nG10 L1 P1 R0.1\nG00 X0. Y0.\n';

function read(text: string, post: PostDefinition = ISO): Motion[] {
  const { value, problems } = readProgram(text, post);
  expect(problems).toEqual([]);
  return value!;
}

function withReading(change: Record<string, unknown>): PostDefinition {
  return isoWith({ reading: { ...(isoJson().reading as object), ...change } });
}

function withArcs(change: Record<string, unknown>, letters: Record<string, unknown> = {}): PostDefinition {
  const json = isoJson();
  return isoWith({
    arcs: { ...(json.arcs as object), ...change },
    letters: { ...(json.letters as object), ...letters },
  });
}

describe('what the reader refuses', () => {
  // Each text, with the code, line and column of the one problem it must give.
  const cases: [name: string, text: string, code: string, line: number, column: number][] = [
    ['an unknown word', `${HEAD}G01 X1. F1. Q3\nM02`, 'UNKNOWN-WORD', 4, 13],
    ['an unknown G word', `${HEAD}G64\nM02`, 'UNKNOWN-WORD', 4, 1],
    ['an unknown M word', `${HEAD}M99\nM02`, 'UNKNOWN-WORD', 4, 1],
    ['an unknown word that looks like a parameter name', `${HEAD}G01 E1. F1.\nM02`, 'UNKNOWN-WORD', 4, 5],
    ['taper words', `${HEAD}G01 X1. U0.5 F1.\nM02`, 'TAPER', 4, 9],
    ['a letter without number', `${HEAD}G01 X F1.\nM02`, 'WORD-WITHOUT-NUMBER', 4, 5],
    ['a sign without number', `${HEAD}G01 X- F1.\nM02`, 'WORD-WITHOUT-NUMBER', 4, 5],
    ['a point without digits', `${HEAD}G01 X. F1.\nM02`, 'WORD-WITHOUT-NUMBER', 4, 5],
    ['a decimal comma', `${HEAD}G01 X1,5 F1.\nM02`, 'DECIMAL-COMMA', 4, 7],
    ['two points', `${HEAD}G01 X1.5.2 F1.\nM02`, 'BAD-NUMBER', 4, 9],
    ['two signs', `${HEAD}G01 X--1. F1.\nM02`, 'WORD-WITHOUT-NUMBER', 4, 5],
    ['an exponent', `${HEAD}G01 X1.E2 F1.\nM02`, 'UNKNOWN-WORD', 4, 8],
    ['too many digits', `${HEAD}G01 X1234567890123456. F1.\nM02`, 'BAD-NUMBER', 4, 6],
    ['no decimal point', `${HEAD}G01 X10 F1.\nM02`, 'NO-DECIMAL-POINT', 4, 5],
    ['too many decimals', `${HEAD}G01 X0.00001 F1.\nM02`, 'TOO-MANY-DECIMALS', 4, 5],
    ['a space inside a word', `${HEAD}G01 X 1. F1.\nM02`, 'WORD-WITHOUT-NUMBER', 4, 5],
    ['a small letter', `${HEAD}G01 x1. F1.\nM02`, 'LOWER-CASE', 4, 5],
    ['a skippable block', `${HEAD}/G01 X1. F1.\nM02`, 'BLOCK-SKIP', 4, 1],
    ['a stray character', `${HEAD}G01 X1. * F1.\nM02`, 'UNKNOWN-CHARACTER', 4, 9],
    ['a character outside ASCII', `${HEAD}G01 X1.µ F1.\nM02`, 'UNKNOWN-CHARACTER', 4, 8],
    ['an open comment', `${HEAD}G01 X1. F1. (not closed\nM02`, 'COMMENT-OPEN', 4, 13],
    ['a comment in a comment', `${HEAD}(a (b))\nM02`, 'COMMENT-IN-COMMENT', 4, 4],
    ['a closing bracket alone', `${HEAD}a)\nM02`, 'LOWER-CASE', 4, 1],
    ['a word twice', `${HEAD}G01 X1. X2. F1.\nM02`, 'DUPLICATE-WORD', 4, 9],
    ['two motion words', `${HEAD}G01 G00 X1. F1.\nM02`, 'CONFLICTING-WORDS', 4, 5],
    ['the same motion word twice', `${HEAD}G01 G1 X1. F1.\nM02`, 'CONFLICTING-WORDS', 4, 5],
    ['two units', 'G70 G71\nM02', 'CONFLICTING-WORDS', 1, 5],
    ['compensation without register', `${HEAD}G41 G01 X1. F1.\nM02`, 'SIDE-WITHOUT-REGISTER', 4, 1],
    ['a register without side', `${HEAD}G01 D1 X1. F1.\nM02`, 'REGISTER-WITHOUT-SIDE', 4, 5],
    ['a register beside G40', `${HEAD}G40 D1\nM02`, 'REGISTER-WITHOUT-SIDE', 4, 5],
    ['a register never set', `${HEAD}G41 D2 G01 X1. F1.\nM02`, 'REGISTER-NOT-SET', 4, 5],
    ['register zero', `${HEAD}G41 D0 G01 X1. F1.\nM02`, 'BAD-REGISTER', 4, 5],
    ['a broken register', `${HEAD}G41 D1.5 G01 X1. F1.\nM02`, 'BAD-REGISTER', 4, 5],
    ['a negative offset', `${HEAD}G10 L1 P2 R-0.1\nM02`, 'BAD-OFFSET', 4, 11],
    ['an incomplete register block', `${HEAD}G10 L1 P2\nM02`, 'FUNCTION-BLOCK', 4, 1],
    ['a register block of another kind', `${HEAD}G10 L2 P2 R0.1\nM02`, 'FUNCTION-BLOCK', 4, 1],
    ['a function beside a motion', `${HEAD}G01 X1. F1. M50\nM02`, 'FUNCTION-BLOCK', 4, 13],
    ['a broken level', `${HEAD}S1.5\nM02`, 'BAD-LEVEL', 4, 1],
    ['compensation on twice', `${HEAD}G41 D1 G01 X1. F1.\nG42 D1 X2.\nM02`, 'COMPENSATION-ALREADY-ON', 5, 1],
    ['compensation on an arc', `${HEAD}G41 D1 G03 X2. Y0. I1. J0. F1.\nM02`, 'COMPENSATION-ON-ARC', 4, 12],
    [
      'compensation that would act on an arc',
      `${HEAD}G41 D1\nG03 X2. Y0. I1. J0. F1.\nM02`,
      'COMPENSATION-ON-ARC',
      5,
      5,
    ],
    ['compensation left on', `${HEAD}G41 D1 G01 X1. F1.\nM02`, 'COMPENSATION-LEFT-ON', 5, 1],
    ['motion before a position', 'G71 G90\nG01 X1. Y1. F1.\nM02', 'POSITION-UNKNOWN', 2, 5],
    ['a first move on one axis', 'G71 G90\nG00 X1.\nM02', 'POSITION-UNKNOWN', 2, 5],
    ['a first incremental move', 'G71 G91\nG00 X1. Y1.\nM02', 'POSITION-UNKNOWN', 2, 5],
    ['threading at an unknown position', 'G71 G90\nM50\nM02', 'POSITION-UNKNOWN', 2, 1],
    ['a position without motion word', 'G71 G90\nX1. Y1.\nM02', 'MOTION-UNKNOWN', 2, 1],
    ['a length without unit', 'G90\nG00 X1. Y1.\nM02', 'UNIT-UNKNOWN', 2, 5],
    ['a feed without unit', 'F1.\nM02', 'UNIT-UNKNOWN', 1, 1],
    ['an offset without unit', 'G10 L1 P1 R0.1\nM02', 'UNIT-UNKNOWN', 1, 11],
    ['a position without distance mode', 'G71\nG00 X1. Y1.\nM02', 'DISTANCE-UNKNOWN', 2, 5],
    ['a cut without feed', `${HEAD}G01 X1.\nM02`, 'FEED-UNKNOWN', 4, 5],
    ['feed zero', `${HEAD}G01 X1. F0.\nM02`, 'BAD-FEED', 4, 9],
    ['an arc without centre', `${HEAD}G03 X2. Y0. F1.\nM02`, 'ARC-CENTRE-MISSING', 4, 5],
    ['an arc with half a centre', `${HEAD}G03 X2. Y0. I1. F1.\nM02`, 'ARC-CENTRE-MISSING', 4, 5],
    ['a centre in a line', `${HEAD}G01 X2. I1. F1.\nM02`, 'CENTRE-WITHOUT-ARC', 4, 9],
    ['radii that disagree', `${HEAD}G03 X2. Y0. I1.01 J0. F1.\nM02`, 'ARC-RADII-DIFFER', 4, 5],
    ['an arc without radius', `${HEAD}G03 X2. Y0. I0. J0. F1.\nM02`, 'ARC-RADIUS', 4, 5],
    ['a position far outside any machine', `${HEAD}G00 X100001.\nM02`, 'TOO-FAR', 4, 5],
    ['a radius far outside any drawing', `${HEAD}G03 X2. Y0. I1. J9999999. F1.\nM02`, 'ARC-RADIUS', 4, 5],
    ['a feed no machine runs', `${HEAD}G01 X1. F9999999.\nM02`, 'BAD-FEED', 4, 9],
    ['an offset without its point', `${HEAD}G10 L1 P1 R158000.\nM02`, 'BAD-OFFSET', 4, 11],
    ['a full circle', `${HEAD}G03 X0. Y0. I1. J0. F1.\nM02`, 'FULL-CIRCLE', 4, 5],
    ['a block after the end', `${HEAD}M02\nG00 X1.`, 'BLOCK-AFTER-END', 5, 1],
    ['a second end', `${HEAD}M02\nM02`, 'BLOCK-AFTER-END', 5, 1],
    ['no end', HEAD, 'NO-END', 3, 1],
    ['an empty text', '', 'NO-END', 1, 1],
    ['a block number inside a block', `${HEAD}G01 N10 X1. F1.\nM02`, 'BLOCK-NUMBER', 4, 5],
    ['a broken block number', `${HEAD}N1.5 G01 X1. F1.\nM02`, 'BLOCK-NUMBER', 4, 1],
    ['a tape mark inside the program', `%\n${HEAD}%\nM02`, 'TAPE-MARK', 5, 1],
    ['a third tape mark', `%\n${HEAD}M02\n%\n%`, 'TAPE-MARK', 7, 1],
    ['words behind a tape mark', `% G71\nM02`, 'TAPE-MARK', 1, 1],
    ['a tape mark behind words', `G71 %\nM02`, 'TAPE-MARK', 1, 5],
    ['an expression where none are allowed', `${HEAD}G01 X[1+2] F1.\nM02`, 'WORD-WITHOUT-NUMBER', 4, 5],
    ['a parameter where none are allowed', `${HEAD}#1=2\nM02`, 'UNKNOWN-CHARACTER', 4, 1],
    ['a lone carriage return', 'G71 G90\rM02\n', 'UNKNOWN-CHARACTER', 1, 8],
  ];
  it.each(cases)('%s', (_, text, code, line, column) => {
    const { value, problems } = readProgram(text, ISO);
    expect(value).toBeNull();
    expect(problems.map((p) => [p.code, p.at?.line, p.at?.column])).toEqual([[`PROGRAM-${code}`, line, column]]);
    expect(problems[0]!.message).toContain(`Line ${line}, column ${column}: `);
  });

  it('block numbers, when the post has none', () => {
    expect(readProgram('G20G91\nN10M30', OTHER).problems[0]!.code).toBe('PROGRAM-UNKNOWN-WORD');
  });
});

describe('what the reader understands', () => {
  const square = `${HEAD}G01 X1. F2.\nY1.\nX0.\nY0.\nM02\n`;

  it('modal words in any order and any spacing', () => {
    const wanted = read(square);
    const variants = [
      square.replaceAll('\n', '\r\n'),
      square.replace('G17 G71 G90', 'G90 G71 G17'),
      square.replace('G17 G71 G90', 'G90\nG71\n\nG17'),
      square.replace(/ /g, ''),
      square.replace(/ /g, '   \t'),
      square.replace('G01 X1. F2.', 'F2. X1. G01'),
      square.replace('G01 X1. F2.', 'X+01.0000 F2.0 G1'),
      square.replace('G01 X1. F2.', 'G01\nF2.\nX1.'),
      square.replace('R0.1', 'R.1').replace('G10 L1 P1 R.1', 'R.1 P01 L1 G10'),
      square.replace('M02', 'M2'),
      `%\n${square}%\n`,
      square.replace('\nY1.', '\nG91 Y1.').replace('\nX0.', '\nX-1.').replace('\nY0.\n', '\nY-1.\n'),
      `\n\n${square}\n\n`,
      square.trimEnd(),
    ];
    for (const text of variants) expect(firstDifference(read(text), wanted), text).toBeNull();
  });

  it('inch and metric in one program', () => {
    const motions = read('G70 G90\nG00 X1. Y0.\nG71\nG91 G00 X0.1 Y2.\nM02');
    expect(motions.filter((m) => m.kind === 'rapid').map((m) => m.to)).toEqual([
      { x: 25.4, y: 0 },
      { x: 25.5, y: 2 },
    ]);
  });

  it('incremental sums without drift', () => {
    const steps = Array.from({ length: 10_000 }, () => 'X0.1 Y-0.0001').join('\n');
    const last = read(`${HEAD}G91 G01 F1.\n${steps}\nM02`).at(-2);
    expect(last).toMatchObject({ to: { x: 1000, y: -1 } });
  });

  it('comments as notes, and beside a stop as its text', () => {
    const motions = read('(first)\nG71 G90 (second)\nM00 (take the slug) (now)\nM01\nM02\n(last)');
    expect(motions.map((m) => (m.kind === 'note' || m.kind === 'stop' ? [m.kind, m.text] : [m.kind]))).toEqual([
      ['note', 'first'],
      ['note', 'second'],
      ['stop', 'take the slug now'],
      ['stop', ''],
      ['end'],
      ['note', 'last'],
    ]);
  });

  it('the place of every motion', () => {
    const motions = read('G71 G90\n  N20 G00 X1. Y1.\nN30 M50\nM02');
    expect(motions.map((m) => m.place)).toEqual([
      { line: 2, column: 7 },
      { line: 3, column: 5 },
      { line: 4, column: 1 },
    ]);
  });

  it('compensation on, off, and off again without effect', () => {
    const motions = read(`${HEAD}G40\nG42 D1 G01 X1. F1.\nG40 X2.\nG40\nM02`);
    expect(motions.filter((m) => m.kind === 'compensation').map((m) => [m.side, m.register])).toEqual([
      ['right', 1],
      ['off', 0],
    ]);
  });

  it('small letters, spaces inside words and expressions only when the post allows them', () => {
    expect(read('g71g90\ng00x1.y1.\nm02', withReading({ lowerCase: true }))).toHaveLength(2);
    expect(read('G71 G90\nG00 X 1. Y\t-1.\nM02', withReading({ spacesInsideWords: true }))).toHaveLength(2);
    const expressions = withReading({ expressions: true });
    const motions = read('G71 G90\n#1=2\nM02', expressions);
    expect(motions).toHaveLength(1);
    expect(read('G71 G90\n#1=2\nG00 X#1 Y[#1*3-1]\nM02', expressions)[0]).toMatchObject({ to: { x: 2, y: 5 } });
  });

  it.each([
    ['X#7 Y0.', 8],
    ['X[1 Y0.', 9],
    ['X[1/0] Y0.', 11],
    ['X[] Y0.', 7],
    ['XFOO[1] Y0.', 6],
    ['XATAN[1] Y0.', 14],
    [`X${'['.repeat(5000)} Y0.`, 66],
    ['X#0 Y0.', 8],
    ['X#[1.5] Y0.', 12],
    ['XLN[-1] Y0.', 12],
  ])('a broken expression %s is a problem', (words, column) => {
    const { problems } = readProgram(`G71 G90\nG00 ${words}\nM02`, withReading({ expressions: true }));
    expect(problems.map((p) => [p.code, p.at?.line, p.at?.column])).toEqual([['PROGRAM-EXPRESSION', 2, column]]);
  });

  it('radius arcs, short and long way, when the post has a radius word', () => {
    const post = withArcs({}, { radius: 'R' });
    const centreOf = (words: string) => {
      const m = read(`${HEAD}${words} F1.\nM02`, post).find((c) => c.kind === 'arc');
      return [Math.round(m!.centre.x * 1e6) / 1e6, Math.round(m!.centre.y * 1e6) / 1e6];
    };
    expect(centreOf('G03 X2. Y2. R2.')).toEqual([0, 2]);
    expect(centreOf('G02 X2. Y2. R2.')).toEqual([2, 0]);
    expect(centreOf('G03 X2. Y2. R-2.')).toEqual([2, 0]);
    expect(centreOf('G02 X2. Y2. R-2.')).toEqual([0, 2]);
    const far = readProgram(`${HEAD}G03 X5. Y0. R2. F1.\nM02`, post);
    expect(far.problems[0]!.code).toBe('PROGRAM-ARC-RADIUS');
    const both = readProgram(`${HEAD}G03 X2. Y2. R2. I0. J2. F1.\nM02`, post);
    expect(both.problems[0]!.code).toBe('PROGRAM-DUPLICATE-WORD');
  });

  it('full circles and single centre words when the post allows them', () => {
    const post = withArcs({ fullCircles: true, bothCentreWords: false });
    const arc = read(`${HEAD}G02 J2.5 F1.\nM02`, post).find((m) => m.kind === 'arc');
    expect(arc).toMatchObject({ from: { x: 0, y: 0 }, to: { x: 0, y: 0 }, centre: { x: 0, y: 2.5 }, clockwise: true });
  });
});
