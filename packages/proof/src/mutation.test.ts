import { seededRandom } from '@gapwright/base';
import { type Point, pointAt } from '@gapwright/geometry';
import { type Motion, readProgram } from '@gapwright/program';
import { describe, expect, it } from 'vitest';
import { proveProgram } from './prove.js';
import { cuttingMoves, radiusOf } from './sweep.js';
import { flatten } from './testing/capsules.js';
import { SAMPLE_JOBS } from './testing/sample-features.js';
import { asText, POST, type SampleJob } from './testing/sample-jobs.js';
import { walk } from './walk.js';

/** Chords of the independent check stay this close to the path, mm. */
const SAG_MM = 1e-5;

/**
 * Deviation of the wall at places of the contours by nothing but distances to a fine polyline of the wire's path:
 * positive rest, negative undercut. The path still comes from the same controller; the erosion does not.
 */
function denseDeviations(motions: readonly Motion[], job: SampleJob, places: readonly Point[]): number[] {
  const radius = radiusOf(job.setup);
  const chords = cuttingMoves(walk(motions)).flatMap((m) => {
    const p = flatten(m.segment, SAG_MM);
    return p.slice(1).map((b, i) => ({ a: p[i]!, b, r: radius(m) }));
  });
  return places.map((p) => {
    let least = 1;
    for (const { a, b, r } of chords) {
      const dx = b.x - a.x;
      const dy = b.y - a.y;
      const t = Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy)));
      const ex = p.x - a.x - t * dx;
      const ey = p.y - a.y - t * dy;
      least = Math.min(least, Math.sqrt(ex * ex + ey * ey) - r);
    }
    return least;
  });
}

function placesOf(job: SampleJob): Point[] {
  return job.features.flatMap((f) =>
    f.contour.segments.flatMap((s) => [0, 0.1, 0.3, 0.5, 0.7, 0.9].map((t) => pointAt(s, t))),
  );
}

/** Changes one number of one line that moves, or swaps a word, or drops or doubles a line. */
function mutate(lines: readonly string[], pick: (n: number) => number): string[] {
  const moving = lines.flatMap((l, i) => (/[XYIJ]-?\d/.test(l) || /R\d/.test(l) ? [i] : []));
  const i = moving[pick(moving.length)]!;
  const line = lines[i]!;
  switch (pick(5)) {
    case 0:
      return lines.toSpliced(i, 1);
    case 1:
      return lines.with(
        i,
        line.replace(/G0?([23])\b/, (_, d) => (d === '2' ? 'G03' : 'G02')),
      );
    case 2:
      return lines.with(
        i,
        line.replace(/G4([12])/, (_, d) => (d === '1' ? 'G42' : 'G41')),
      );
    default: {
      const numbers = [...line.matchAll(/[XYIJR](-?\d+\.?\d*)/g)];
      const hit = numbers[pick(numbers.length)]!;
      const by = [0.001, 0.005, -0.02, 0.1, -1][pick(5)]!;
      const value = (Number(hit[1]) + by).toFixed(4);
      return lines.with(i, `${line.slice(0, hit.index + 1)}${value}${line.slice(hit.index + hit[0].length)}`);
    }
  }
}

describe('mutated programs', () => {
  for (const [name, seed] of [
    ['circle opening', 11],
    ['rounded punch', 12],
    ['L opening', 13],
    ['punch with a hole', 14],
  ] as const) {
    it(`${name}: a changed shape never passes (seed ${seed})`, () => {
      const random = seededRandom(seed);
      const job = SAMPLE_JOBS[name]!(2);
      const lines = asText(job.steps).split('\n');
      const places = placesOf(job);
      let proved = 0;
      let spoiled = 0;
      for (let k = 0; k < 120; k++) {
        const mutated = mutate(lines, (n) => random.below(n));
        const motions = readProgram(mutated.join('\n'), POST).value;
        // What the reader refuses never reaches the machine.
        if (motions === null) continue;
        proved++;
        const result = proveProgram(motions, job.setup, job.features);
        const dense = denseDeviations(motions, job, places);
        const undercut = Math.max(0, ...dense.map((d) => -d));
        // Rest at the two sharp corners stays by agreement; the proof measures it against the rounded corner.
        const rest = Math.max(0, ...dense.filter((d) => d < 0.0575 || d > 0.0585));
        // One count of the text and the chords' sag.
        expect(result.maxUndercutMm).toBeGreaterThan(undercut - 0.0001);
        const isBad =
          undercut > job.setup.toleranceMm + 0.0001 || (rest > job.setup.toleranceMm + 0.0001 && name !== 'L opening');
        if (isBad) {
          spoiled++;
          expect(
            result.verdict,
            `${name} ${k}\n${mutated
              .filter((l, i) => l !== lines[i])
              .slice(0, 2)
              .join('\n')}`,
          ).toBe('fail');
        }
        if (name !== 'L opening')
          expect(Math.abs(result.maxRestMm - rest) < 0.001 || result.maxRestMm > rest).toBe(true);
        if (result.verdict === 'pass') expect(result.maxUndercutMm).toBeLessThanOrEqual(job.setup.toleranceMm);
      }
      expect(proved).toBeGreaterThan(50);
      expect(spoiled).toBeGreaterThan(8);
    }, 120_000);
  }
});
