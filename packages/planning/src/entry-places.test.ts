import { type Contour, indexSegments, orient } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import { walkOf } from './contour-walk.js';
import { entryPlaces, furtherPlaces, roomAt, type Surroundings, surroundings } from './entry-places.js';
import { circle, polygon, rectangle } from './testing/drawings.js';

function around(...contours: Contour[]): Surroundings {
  return surroundings(indexSegments(contours.flatMap((c) => c.segments)), 1000);
}

describe('room for the wire', () => {
  it('is the radius inside a round hole', () => {
    expect(roomAt({ x: 5, y: 0 }, { x: -1, y: 0 }, around(circle(0, 0, 5)))).toBeCloseTo(5, 6);
  });

  it('is half the width of a slot, and unlimited where nothing is', () => {
    const slot = rectangle(0, 0, 40, 3);
    expect(roomAt({ x: 20, y: 0 }, { x: 0, y: 1 }, around(slot))).toBeCloseTo(1.5, 6);
    expect(roomAt({ x: 20, y: 0 }, { x: 0, y: -1 }, around(slot))).toBe(Number.POSITIVE_INFINITY);
  });

  it('shrinks near a corner: r from the bisector, d tan(half the angle)', () => {
    const d = 2;
    expect(roomAt({ x: d, y: 0 }, { x: 0, y: 1 }, around(rectangle(0, 0, 40, 40)))).toBeCloseTo(d, 6);
  });
});

describe('places to come in', () => {
  it('are the middles of the longest sides first, with the waste on their right', () => {
    const drawn = rectangle(0, 0, 60, 20);
    const [first] = entryPlaces(walkOf(drawn), around(drawn));
    expect(first).toMatchObject({
      at: { x: 30, y: 0 },
      normal: { x: 0, y: -1 },
      smoothBeforeMm: 30,
      smoothAfterMm: 30,
    });
    expect(first!.cornerBefore).toBe(0);
  });

  it('know how far inside corners keep the wire away', () => {
    const opening = orient(rectangle(0, 0, 60, 20), false);
    const [first] = entryPlaces(walkOf(opening), around(opening));
    expect(first!.cornerBefore).toBeCloseTo(1, 9);
    expect(first!.roomMm).toBeCloseTo(10, 6);
  });

  it('are one on a circle', () => {
    const hole = orient(circle(0, 0, 4), false);
    expect(entryPlaces(walkOf(hole), around(hole))).toHaveLength(1);
  });

  it('lie beside outside corners when the sides have no room, with the hole on the bisector', () => {
    const tooth = polygon([0, 0], [10, 0], [5, 20]);
    const tip = furtherPlaces(walkOf(tooth), around(tooth)).find((p) => p.base.y === 20)!;
    expect(tip.normal.x).toBeCloseTo(0, 9);
    expect(tip.normal.y).toBeCloseTo(1, 9);
    expect(tip.roomMm).toBe(Number.POSITIVE_INFINITY);
    expect(tip.at).not.toEqual(tip.base);
  });
});
