import { describe, expect, it } from 'vitest';
import { arcSample, lineSample, packed } from './testing/packed-samples.js';
import { MERGE_PX, type Pen, type Raster, tracePath } from './trace-path.js';

type Call = readonly [string, ...number[]];

function recorder(): Pen & { readonly calls: Call[] } {
  const calls: Call[] = [];
  return {
    calls,
    moveTo: (x, y) => void calls.push(['move', x, y]),
    lineTo: (x, y) => void calls.push(['line', x, y]),
    arc: (x, y, r, a, b, ccw) => void calls.push(['arc', x, y, r, a, b, ccw ? 1 : 0]),
  };
}

const raster = (pxPerMm: number, more: Partial<Raster> = {}): Raster => ({
  originX: 0,
  originY: 500,
  pxPerMm,
  width: 800,
  height: 500,
  reachPx: 10,
  ...more,
});

const trace = (paths: ReturnType<typeof packed>, r: Raster): Call[] => {
  const pen = recorder();
  tracePath(pen, paths.values, 0, paths.starts[1]!, r);
  return pen.calls;
};

describe('tracePath', () => {
  it('draws lines and exact arcs, y up', () => {
    const calls = trace(packed([lineSample(0, 0, 10, 0), arcSample(10, 5, 5, -Math.PI / 2, Math.PI)]), raster(10));
    expect(calls[0]).toEqual(['move', 0, 500]);
    expect(calls[1]).toEqual(['line', 100, 500]);
    const [kind, x, y, r, start, end, isCcw] = calls[2]!;
    expect([kind, x, y, r, isCcw]).toEqual(['arc', 100, 450, 50, 1]);
    // From below the centre on the screen, over the right, to above it.
    expect(Math.cos(start!)).toBeCloseTo(0, 9);
    expect(Math.sin(start!)).toBeCloseTo(1, 9);
    expect(Math.sin(end!)).toBeCloseTo(-1, 9);
    expect(start! - end!).toBeCloseTo(Math.PI, 9);
  });

  it('never strays further than its limit from contours of tiny pieces, and draws far fewer', () => {
    const n = 20_000;
    const at = (i: number): [number, number] => [
      5 + 4 * Math.cos((2 * Math.PI * i) / n),
      5 + 4 * Math.sin((2 * Math.PI * i) / n),
    ];
    const path = packed(Array.from({ length: n }, (_, i) => lineSample(...at(i), ...at(i + 1))));
    const calls = trace(path, raster(20));
    expect(calls.length).toBeLessThan(n / 5);
    let [penX, penY] = [0, 0];
    for (const [kind, x, y] of calls) {
      expect(Math.abs(Math.sqrt((x! - 100) ** 2 + (y! - 400) ** 2) - 80)).toBeLessThan(1e-6);
      // Two neighbours on the circle no further apart than two limits: the chord is within a thousandth of a pixel.
      if (kind === 'line') expect(Math.max(Math.abs(x! - penX), Math.abs(y! - penY))).toBeLessThan(2 * MERGE_PX);
      [penX, penY] = [x!, y!];
    }
    const end = calls.at(-1)!;
    expect(Math.abs(end[1]! - 180)).toBeLessThan(1e-6);
  });

  it('keeps a contour smaller than a pixel as a dot', () => {
    const calls = trace(packed([lineSample(5, 5, 5.001, 5), lineSample(5.001, 5, 5, 5)]), raster(10));
    expect(calls.map((c) => c[0])).toEqual(['move', 'line']);
  });

  it('leaves out what lies outside and keeps what only passes through', () => {
    expect(trace(packed([lineSample(-50, 10, -20, 40)]), raster(10))).toEqual([]);
    expect(trace(packed([lineSample(-50, 25, 200, 25)]), raster(10))).toHaveLength(2);
    // Both ends left of the picture, but the arc bulges into it.
    expect(trace(packed([arcSample(-5, 25, 20, -Math.PI / 2, Math.PI)]), raster(10)).map((c) => c[0])).toEqual([
      'move',
      'arc',
    ]);
  });

  it('cuts pieces too long for 32-bit pixels to the picture', () => {
    const far = raster(10_000, { originX: -500_000, originY: 500_250 });
    for (const path of [packed([lineSample(0, 50, 200, 50)]), packed([arcSample(50, -150, 200, 0, Math.PI)])]) {
      const calls = trace(path, far);
      expect(calls.length).toBeGreaterThan(1);
      for (const [kind, x, y] of calls.slice(1)) {
        expect(kind).not.toBe('arc');
        expect(Math.abs(x!)).toBeLessThan(2000);
        // The line and the top of the arc both lie at y = 50 mm, in the middle of the picture.
        expect(y!).toBeCloseTo(250, 0);
      }
    }
  });
});
