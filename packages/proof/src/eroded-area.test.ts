import { seededRandom } from '@gapwright/base';
import { line } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import { sweptAreaMm2 } from './eroded-area.js';

describe('swept area', () => {
  it('counts a way there and back once, wherever it lies', () => {
    const random = seededRandom(5);
    for (let k = 0; k < 300; k++) {
      const a = { x: 200 * random.uniform() - 100, y: 200 * random.uniform() - 100 };
      const length = 0.1 + 10 * random.uniform();
      const b = k % 2 === 0 ? { x: a.x + length, y: a.y } : { x: a.x, y: a.y + length };
      const r = 0.05 + 0.3 * random.uniform();
      const area = sweptAreaMm2([line(a, b), line(b, a)], Float64Array.of(r, r));
      expect(area).toBeCloseTo(2 * r * length + Math.PI * r * r, 7);
    }
  });

  it('subtracts what two crossing kerfs share', () => {
    const r = 0.2;
    const across = [line({ x: -5, y: 0 }, { x: 5, y: 0 }), line({ x: 0, y: -5 }, { x: 0, y: 5 })];
    const each = 2 * r * 10 + Math.PI * r * r;
    expect(sweptAreaMm2(across, Float64Array.of(r, r))).toBeCloseTo(2 * each - 4 * r * r, 9);
  });
});
