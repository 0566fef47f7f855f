import { describe, expect, it } from 'vitest';
import { readKeptAnswer } from './kept-answer.js';

const bytes = (value: unknown) => new TextEncoder().encode(JSON.stringify(value));
const paths = { values: [0, 0, 1, 0, 0, 0, 0, 0], starts: [0, 1], closed: [0] };

describe('readKeptAnswer', () => {
  it('packs the lines of the drawing again', () => {
    const scene = {
      boxMm: { minX: 0, minY: 0, maxX: 1, maxY: 1 },
      layers: [{ kind: 'part', paths, names: ['F1'] }],
      marks: [],
      bands: [{ operation: 10, feature: 'F1', samples: [1, 2, 0.001], isClosed: true }],
      walks: [{ operation: 10, paths, endMin: [1.5], cuts: [1], lines: [12], halfKerfMm: [0.155], stops: [] }],
    };
    const answer = readKeptAnswer(bytes({ plan: null, price: null, decisions: [], problems: [], scene }));
    expect(answer.scene?.layers[0]?.paths.values).toEqual(Float64Array.from(paths.values));
    expect(answer.scene?.bands[0]?.samples).toBeInstanceOf(Float64Array);
    expect(answer.scene?.walks[0]?.lines).toEqual(Uint32Array.of(12));
    expect(answer.scene?.walks[0]?.halfKerfMm[0]).toBeCloseTo(0.155, 6);
  });

  it('opens an offer that keeps plan and price alone', () => {
    const answer = readKeptAnswer(bytes({ plan: { problems: [{ code: 'X' }] }, price: null }));
    expect(answer.problems).toHaveLength(1);
    expect(answer.decisions).toEqual([]);
  });

  it.each([[[1, 2]], ['text'], [null], [{ other: 1 }]])('refuses %j', (value) => {
    expect(() => readKeptAnswer(bytes(value))).toThrow('no job sheet');
  });
});
