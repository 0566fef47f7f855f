import { arc, arcPieces, contour, line, type Point } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import { numberText, pathData } from './svg-path.js';
import { escapeText, fitMap, svgPicture } from './svg-picture.js';

const UNIT = { scale: 1, originX: 0, originY: 0 };

/** Middle of an SVG arc of at most half a turn, by the endpoint rules of SVG 1.1 appendix F.6. */
function arcMiddle(from: Point, to: Point, r: number, sweepFlag: number): Point {
  const hx = (from.x - to.x) / 2;
  const hy = (from.y - to.y) / 2;
  const half = Math.sqrt(hx * hx + hy * hy);
  const height = Math.sqrt(Math.max(0, r * r - half * half));
  const mx = (from.x + to.x) / 2;
  const my = (from.y + to.y) / 2;
  // With y down, sweep 1 turns clockwise on the screen: the arc bulges to the left of from → to as drawn.
  const side = sweepFlag === 1 ? 1 : -1;
  const nx = (to.y - from.y) / (2 * half);
  const ny = -(to.x - from.x) / (2 * half);
  return { x: mx + side * nx * (r - height), y: my + side * ny * (r - height) };
}

describe('pathData', () => {
  it('turns y over and keeps arcs as arcs', () => {
    const half = arc({ x: 10, y: 0 }, { x: 10, y: 10 }, { x: 10, y: 5 }, Math.PI);
    const c = contour([line({ x: 0, y: 0 }, { x: 10, y: 0 }), half, line({ x: 10, y: 10 }, { x: 0, y: 0 })], true);
    expect(pathData(c, UNIT)).toBe('M0 0L10 0A5 5 0 0 0 10 -10L0 0Z');
  });

  it.each([0.4, -0.4, 2.9, -2.9])('draws an arc of sweep %d on its own side', (sweepRad) => {
    const [s] = arcPieces({ x: 3, y: 4 }, 7, 1, sweepRad);
    const data = pathData(contour([s!], false), UNIT, 9);
    const [, fromX, fromY, r, flag, toX, toY] = /^M(\S+) (\S+)A(\S+) \S+ 0 0 ([01]) (\S+) (\S+)$/
      .exec(data)!
      .map(Number) as number[];
    const middle = arcMiddle({ x: fromX!, y: fromY! }, { x: toX!, y: toY! }, r!, flag!);
    const angle = 1 + sweepRad / 2;
    expect(middle.x).toBeCloseTo(3 + 7 * Math.cos(angle), 6);
    expect(middle.y).toBeCloseTo(-(4 + 7 * Math.sin(angle)), 6);
  });

  it.each([
    [1.5, '1.5'],
    [-0.0001, '0'],
    [100, '100'],
    [2.0004, '2'],
  ])('writes %d as %s', (value, text) => {
    expect(numberText(value, 3)).toBe(text);
  });
});

describe('svgPicture', () => {
  const square = contour(
    [
      line({ x: 100, y: 50 }, { x: 120, y: 50 }),
      line({ x: 120, y: 50 }, { x: 120, y: 60 }),
      line({ x: 120, y: 60 }, { x: 100, y: 60 }),
      line({ x: 100, y: 60 }, { x: 100, y: 50 }),
    ],
    true,
  );

  it('fits the drawing into the picture with one scale, in the middle', () => {
    const svg = svgPicture([{ kind: 'contour', contour: square, weight: 'heavy' }], {
      width: 220,
      height: 220,
      margin: 10,
    });
    expect(svg).toContain('d="M10 160L210 160L210 60L10 60L10 160Z"');
  });

  it('draws heavier lines later and labels last, whatever the order given', () => {
    const svg = svgPicture(
      [
        { kind: 'label', at: { x: 100, y: 50 }, text: 'P1' },
        { kind: 'contour', contour: square, weight: 'heavy' },
        { kind: 'contour', contour: square, weight: 'hair', dash: [4, 2] },
      ],
      { width: 100, height: 100 },
    );
    const order = ['stroke-width="0.5"', 'stroke-width="2.5"', '<text'].map((part) => svg.indexOf(part));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(order.every((i) => i > 0)).toBe(true);
  });

  it('escapes all text', () => {
    const svg = svgPicture([{ kind: 'label', at: { x: 0, y: 0 }, text: '<b a="1">&\u0000\ud800', colour: '"><x' }], {
      width: 10,
      height: 10,
      title: "it's <ok>",
    });
    expect(svg).toContain('>&lt;b a=&quot;1&quot;&gt;&amp;</text>');
    expect(svg).toContain('fill="&quot;&gt;&lt;x"');
    expect(svg).toContain('<title>it&#39;s &lt;ok&gt;</title>');
    expect(escapeText('Ø 0.25 µm 😀')).toBe('Ø 0.25 µm 😀');
  });

  it('shows an empty drawing and a single point without dividing by nothing', () => {
    expect(svgPicture([], { width: 10, height: 10 })).toContain('viewBox="0 0 10 10"');
    expect(fitMap({ minX: 3, minY: 3, maxX: 3, maxY: 3 }, { width: 10, height: 10 }).scale).toBe(1);
  });
});
