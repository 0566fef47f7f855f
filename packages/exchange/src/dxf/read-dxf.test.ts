import { describe, expect, it } from 'vitest';
import { readDxf } from './read-dxf.js';

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A file with the given entity tags as `code value` pairs. */
function drawingOf(...pairs: (readonly [number, string | number])[]): Uint8Array {
  const tags: (readonly [number, string | number])[] = [
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...pairs,
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
  return encode(tags.map(([code, value]) => `${code}\n${value}\n`).join(''));
}

const LINE = [
  [0, 'LINE'],
  [8, 'CUT'],
  [10, 0],
  [20, 0],
  [11, 10],
  [21, 5],
] as const;

describe('readDxf', () => {
  it('reads a line with its layer', () => {
    const { value, problems } = readDxf(drawingOf(...LINE));
    expect(problems).toEqual([]);
    expect(value?.entities).toEqual([
      { kind: 'line', layer: 'CUT', handle: null, position: 6, from: { x: 0, y: 0 }, to: { x: 10, y: 5 } },
    ]);
  });

  it.each(['2,5', 'abc', 'NaN', 'Infinity', '', '1e999', '0x10', '1.2.3', '12 34', '1e'])(
    'refuses the number %j with its line',
    (text) => {
      const { value, problems } = readDxf(drawingOf(...LINE.slice(0, 2), [10, text], ...LINE.slice(3)));
      expect(value).toBeNull();
      expect(problems[0]).toMatchObject({ code: 'DXF-BAD-NUMBER', severity: 'stop', at: { line: 10, layer: 'CUT' } });
    },
  );

  it.each([
    [1, '-0'],
    [12.5, '12.5'],
    [-0.25, ' -.25 '],
    [3, '+3.'],
    [1500, '1.5e3'],
    [0.1, '0.1'],
    [123.45678901234567, '123.45678901234567'],
    [5e-7, '5E-07'],
  ])('reads %d from %j', (expected, text) => {
    const { value } = readDxf(drawingOf(...LINE.slice(0, 2), [10, text], ...LINE.slice(3)));
    const line = value?.entities[0];
    expect(line?.kind === 'line' ? line.from.x + (text === '-0' ? 1 : 0) : undefined).toBe(expected);
  });

  it.each([
    ['', 'DXF-EMPTY-FILE'],
    ['hello\nworld\n', 'DXF-NOT-A-DXF'],
    ['%PDF-1.7\n', 'DXF-NOT-A-DXF'],
    ['AC1032\0\0', 'DXF-NOT-A-DXF'],
    ['0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n0\n10\n0\n20\n0\n11\n1\n21\n1\n', 'DXF-TRUNCATED'],
    ['0\nSECTION\n2\nENTITIES\n0\nENDSEC\n', 'DXF-TRUNCATED'],
    ['0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0', 'DXF-TRUNCATED'],
    ['0\nSECTION\n2\nENTITIES\n0\nEOF\n', 'DXF-BAD-STRUCTURE'],
    ['0\nSECTION\n2\nENTITIES\nzero\nLINE\n', 'DXF-BAD-CODE'],
  ])('refuses %j as %s', (text, code) => {
    const { value, problems } = readDxf(encode(text));
    expect(value).toBeNull();
    expect(problems.map((p) => [p.code, p.severity])).toEqual([[code, 'stop']]);
  });

  it.each(['\r\n', '\r', '\n'])('reads line ends %j, a byte order mark and leading blanks', (lineEnd) => {
    const text = new TextDecoder().decode(drawingOf(...LINE)).replaceAll('\n', lineEnd);
    const { value } = readDxf(encode(`\ufeff  ${text}`));
    expect(value?.entities).toHaveLength(1);
  });

  it('turns an arc seen from behind', () => {
    const { value } = readDxf(
      drawingOf([0, 'ARC'], [8, '0'], [10, 5], [20, 2], [40, 1], [50, 0], [51, 90], [210, 0], [220, 0], [230, -1]),
    );
    expect(value?.entities[0]).toMatchObject({
      kind: 'arc',
      centre: { x: -5, y: 2 },
      startRad: Math.PI,
      sweepRad: -Math.PI / 2,
    });
  });

  it('lists what it does not take, with the reason', () => {
    const { value } = readDxf(
      drawingOf([0, 'TEXT'], [8, 'NOTES'], [10, 'bad'], [0, 'TEXT'], [8, 'NOTES'], ...LINE, [31, 4]),
    );
    expect(value?.entities).toEqual([]);
    expect(value?.skipped.map((s) => [s.kind, s.layer, s.count])).toEqual([
      ['TEXT', 'NOTES', 2],
      ['LINE', 'CUT', 1],
    ]);
  });
});
