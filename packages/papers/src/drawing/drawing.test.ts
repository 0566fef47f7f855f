import { arcPieces, contour, line, type Segment, segmentLengthMm } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import { lengthText } from '../length-text.js';
import { SAMPLE_DRAWING } from '../testing/sample-drawing.js';
import type { Drawing } from './drawing.js';
import { drawingSvg } from './drawing-svg.js';
import { type Frame, fitFrame, roundLength, roundScale, scaleText } from './frame.js';
import { labelText } from './label.js';
import { stretchBetween } from './stretch.js';
import { pathData } from './svg-path.js';

const unit: Frame = { scale: 2, widthMm: 100, heightMm: 100, toPaper: (p) => ({ x: 2 * p.x, y: 100 - 2 * p.y }) };
const circle = (r: number): Segment[] => arcPieces({ x: 0, y: 0 }, r, 0, 2 * Math.PI);

describe('path data', () => {
  it('keeps arcs and turns y up', () => {
    const quarter = arcPieces({ x: 0, y: 0 }, 10, 0, Math.PI / 2);
    // From (10, 0) over the upper right to (0, 10): on paper upwards, against SVG's positive turn.
    expect(pathData(quarter, unit)).toBe('M20 100 A20 20 0 0 0 0 80');
    expect(pathData(arcPieces({ x: 0, y: 0 }, 10, 0, -Math.PI / 2), unit)).toBe('M20 100 A20 20 0 0 1 0 120');
  });

  it('starts a new subpath where segments do not meet', () => {
    const apart = [line({ x: 0, y: 0 }, { x: 1, y: 0 }), line({ x: 5, y: 0 }, { x: 6, y: 0 })];
    expect(pathData(apart, unit)).toBe('M0 100 L2 100 M10 100 L12 100');
    expect(pathData([], unit, true)).toBe('');
  });

  it('draws no chords: as many arcs as the contours have', () => {
    const arcs = SAMPLE_DRAWING.contours[0]!.contour.segments.filter((s) => s.kind === 'arc').length;
    const d = pathData(SAMPLE_DRAWING.contours[0]!.contour.segments, unit, true);
    expect(d.split('A').length - 1).toBe(arcs);
  });
});

describe('frame', () => {
  it('takes round scales not above the room', () => {
    expect(roundScale(1.999)).toBeLessThanOrEqual(1.999);
    expect(roundScale(10)).toBe(10);
    expect(scaleText(roundScale(0.13))).toBe('1 : 8');
    expect(scaleText(roundScale(0.9))).toBe('1 : 1.2');
    expect(roundLength(0.34)).toBeCloseTo(0.2, 12);
    expect(scaleText(0.5)).toBe('1 : 2');
    expect(scaleText(2.5)).toBe('2.5 : 1');
  });

  it('keeps every point on the paper, whatever the size', () => {
    for (const size of [1e-3, 1, 300, 1e4]) {
      const c = contour(
        circle(size).map((s) => s),
        true,
      );
      const frame = fitFrame(
        { contours: [{ feature: 'F1', role: 'outline', contour: c }] },
        { widthMm: 178, maxHeightMm: 118 },
      );
      const corner = frame.toPaper({ x: size, y: size });
      expect(corner.x).toBeLessThanOrEqual(178);
      expect(corner.y).toBeGreaterThanOrEqual(0);
      expect(frame.heightMm).toBeLessThanOrEqual(118 + 1e-9);
    }
  });
});

describe('tabs', () => {
  const c = contour(circle(10), true);
  const at = (a: number) => ({ x: 10 * Math.cos(a), y: 10 * Math.sin(a) });
  const length = (s: readonly Segment[]): number => s.reduce((sum, one) => sum + segmentLengthMm(one), 0);

  it('go the short way round, over the seam as well, in either direction', () => {
    expect(length(stretchBetween(c, at(1), at(1.2)))).toBeCloseTo(2, 9);
    expect(length(stretchBetween(c, at(1.2), at(1)))).toBeCloseTo(2, 9);
    expect(length(stretchBetween(c, at(-0.1), at(0.15)))).toBeCloseTo(2.5, 9);
    expect(length(stretchBetween(c, at(3), at(3.3)))).toBeCloseTo(3, 9);
  });
});

describe('picture', () => {
  const { svg } = drawingSvg(SAMPLE_DRAWING, lengthText('mm'), { widthMm: 178, maxHeightMm: 118 });

  it('names every hole, tab, clamp and feature', () => {
    for (const word of ['H1', 'H2', 'H3', 'tab F1', 'tab F2', 'C1 clamp left', 'K1 flushing cup', 'F1', 'F2', 'F3']) {
      expect(svg).toContain(`>${word}<`);
    }
  });

  it('dimensions the part, not the plate', () => {
    expect(svg).toContain('>55.642<');
  });

  it('escapes labels and keeps them short', () => {
    expect(labelText('<b>&"')).toBe('&lt;b&gt;&amp;&quot;');
    expect([...labelText('x'.repeat(100))].length).toBe(26);
    expect(labelText('a\u0001🔥')).toBe('a□□');
  });

  it('leaves out the name of a small opening that its start hole names already', () => {
    const at = { x: 40, y: 0 };
    const small = {
      feature: 'F9',
      role: 'opening' as const,
      contour: contour(arcPieces(at, 1, 0, -2 * Math.PI), true),
    };
    const startHoles = [{ id: 'H9', at, diameterMm: 0.5, fromEdge: false }];
    const size = { widthMm: 178, maxHeightMm: 118 };
    const named = (drawing: Drawing): boolean => drawingSvg(drawing, lengthText('mm'), size).svg.includes('>F9<');
    const contours = [...SAMPLE_DRAWING.contours, small];
    expect(named({ ...SAMPLE_DRAWING, contours, startHoles })).toBe(false);
    expect(named({ ...SAMPLE_DRAWING, contours, startHoles: [] })).toBe(true);
  });

  it('tints what stays: around openings when a blank or a plate bounds them, else nothing', () => {
    const opening = { feature: 'F1', role: 'opening' as const, contour: contour(circle(5), true) };
    const size = { widthMm: 178, maxHeightMm: 118 };
    const tinted = (drawing: Drawing): number => {
      const path = /<path d="([^"]*)" fill="[^"]*" fill-rule="evenodd"/.exec(
        drawingSvg(drawing, lengthText('mm'), size).svg,
      );
      return path === null ? 0 : path[1]!.split('M').length - 1;
    };
    expect(tinted({ contours: [opening] })).toBe(0);
    expect(tinted({ contours: [opening], plate: { minX: -9, minY: -9, maxX: 9, maxY: 9 } })).toBe(2);
    expect(tinted({ contours: [opening], references: [contour(circle(9), true)] })).toBe(2);
    expect(tinted({ contours: [{ ...opening, role: 'outline' }] })).toBe(1);
  });

  it('can be empty', () => {
    expect(drawingSvg({ contours: [] }, lengthText('mm'), { widthMm: 90, maxHeightMm: 60 }).svg).toContain('<svg');
  });
});
