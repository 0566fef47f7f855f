import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitView, panBy, pictureShift, toPlane, toScreen, visibleBox, zoomAt } from './view.js';

const size = { width: 1000, height: 600 };
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const view = fc.record({ x: number(-500, 500), y: number(-500, 500), pxPerMm: number(0.05, 500) });
const screen = fc.record({ x: number(0, 1000), y: number(0, 600) });

describe('view', () => {
  it('leads from the screen to the plane and back', () => {
    fc.assert(
      fc.property(view, screen, (v, s) => {
        const back = toScreen(v, size, toPlane(v, size, s));
        expect(back.x).toBeCloseTo(s.x, 6);
        expect(back.y).toBeCloseTo(s.y, 6);
      }),
    );
  });

  it('has y pointing up', () => {
    const v = { x: 0, y: 0, pxPerMm: 10 };
    expect(toScreen(v, size, { x: 1, y: 2 })).toEqual({ x: 510, y: 280 });
  });

  it('zooms to the cursor: what is under it stays', () => {
    fc.assert(
      fc.property(view, screen, number(0.2, 5), (v, s, factor) => {
        const held = toPlane(v, size, s);
        const after = toScreen(zoomAt(v, size, s, factor), size, held);
        expect(after.x).toBeCloseTo(s.x, 5);
        expect(after.y).toBeCloseTo(s.y, 5);
      }),
    );
  });

  it('moves with the hand', () => {
    const v = { x: 3, y: 4, pxPerMm: 8 };
    const p = toPlane(v, size, { x: 100, y: 100 });
    expect(toScreen(panBy(v, 25, -40), size, p)).toEqual({ x: 125, y: 60 });
  });

  it('fits a box wholly into the pane, and a point too', () => {
    const box = { minX: -30, minY: 5, maxX: 70, maxY: 25 };
    const seen = visibleBox(fitView(box, size), size);
    expect(seen.minX).toBeLessThan(box.minX);
    expect(seen.maxX).toBeGreaterThan(box.maxX);
    expect(seen.minY).toBeLessThan(box.minY);
    expect((seen.maxX - seen.minX) * 0.8).toBeLessThan(box.maxX - box.minX);
    expect(fitView({ minX: 2, minY: 3, maxX: 2, maxY: 3 }, size)).toMatchObject({ x: 2, y: 3 });
  });

  it('puts a picture drawn for one view where another shows it', () => {
    fc.assert(
      fc.property(view, view, screen, (drawn, now, s) => {
        const p = toPlane(drawn, size, s);
        const shift = pictureShift(drawn, now);
        const moved = toScreen(now, size, p);
        const x = size.width / 2 + (s.x - size.width / 2) * shift.scale + shift.dx;
        const y = size.height / 2 + (s.y - size.height / 2) * shift.scale + shift.dy;
        const allowed = 1e-6 * (1 + Math.abs(moved.x) + Math.abs(moved.y));
        expect(Math.abs(x - moved.x)).toBeLessThan(allowed);
        expect(Math.abs(y - moved.y)).toBeLessThan(allowed);
      }),
    );
  });
});
