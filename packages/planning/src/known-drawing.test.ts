import { expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import { knownDrawing } from './known-drawing.js';
import { planWire } from './plan-wire.js';
import { circle, plainRequest, rectangle } from './testing/drawings.js';

const book = startingBook();
const drawn = () => [rectangle(0, 0, 60, 40), circle(20, 20, 6)].map((contour) => ({ contour }));

it('measures the same contours once, until an answer changes that decides about them', () => {
  const contours = drawn();
  const first = knownDrawing(contours, plainRequest());
  expect(knownDrawing(contours, plainRequest({ quantity: 9, raUm: 0.8 }))).toBe(first);
  expect(knownDrawing(contours, plainRequest({ agreedCornerRadiusMm: 0.2 }))).not.toBe(first);
  expect(knownDrawing(contours, plainRequest({ cutLayers: ['A'] })).found.cut).toEqual([]);
  expect(knownDrawing(contours, plainRequest()).found).toEqual(first.found);
});

it('sees a list that was changed in place', () => {
  const contours = drawn();
  expect(planWire(contours, plainRequest(), book).features.length).toBe(2);
  contours.push({ contour: circle(45, 20, 4) });
  expect(planWire(contours, plainRequest(), book).features.length).toBe(3);
  contours[1] = { contour: circle(20, 20, 7) };
  expect(planWire(contours, plainRequest(), book)).toEqual(planWire([...contours], plainRequest(), book));
});

it('gives the plan of a drawing never seen before, whatever was planned with it meanwhile', () => {
  const contours = drawn();
  for (const wireId of ['B15', 'B30']) planWire(contours, plainRequest({ wireId, heightMm: 60 }), book);
  expect(planWire(contours, plainRequest(), book)).toEqual(planWire(drawn(), plainRequest(), book));
});
