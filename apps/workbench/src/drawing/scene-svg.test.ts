import { describe, expect, it } from 'vitest';
import { pathData, sceneSvg } from './scene-svg.js';
import { arcSample, lineSample, packed, sceneOf } from './testing/packed-samples.js';

describe('sceneSvg', () => {
  it('writes arcs as arcs, turned over with the y axis', () => {
    const { values } = packed([lineSample(0, 0, 10, 0), arcSample(10, 5, 5, -Math.PI / 2, Math.PI)]);
    expect(pathData(values, 0, 2)).toBe('M0 0L10 0A5 5 0 0 0 10 -10');
    expect(pathData(packed([arcSample(0, 0, 5, Math.PI / 2, -Math.PI / 2)]).values, 0, 1)).toBe('M0 -5A5 5 0 0 1 5 0');
  });

  it('writes more than half a turn in two pieces', () => {
    const d = pathData(packed([arcSample(0, 0, 5, 0, 1.5 * Math.PI)]).values, 0, 1);
    expect(d.match(/A/g)).toHaveLength(2);
    expect(d).toMatch(/-3\.5355 -3\.5355A.* 0 5$/);
  });

  it('draws what is shown, with names made safe', () => {
    const part = packed([lineSample(0, 0, 10, 0)]);
    const scene = sceneOf(part, ['F1'], {
      layers: [
        { kind: 'part', paths: part, names: ['F1'] },
        { kind: 'pass', pass: 1, operation: 2, paths: part, names: ['F1'] },
      ],
      marks: [{ kind: 'datum', label: 'A<b>&', at: { x: 0, y: 0 } }],
    });
    const options = { withPasses: true, withMarks: true, operation: null, units: 'mm', title: 'T' } as const;
    const svg = sceneSvg(scene, options);
    expect(svg).toContain('A&lt;b&gt;&amp;');
    expect(svg.match(/<path vector-effect/g)).toHaveLength(2);
    expect(sceneSvg(scene, { ...options, operation: 1 }).match(/<path vector-effect/g)).toHaveLength(1);
    expect(sceneSvg(scene, { ...options, withMarks: false })).not.toContain('<text');
  });
});
