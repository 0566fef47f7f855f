import { outsideCheck } from '@gapwright/base/testing';
import { areaPathsD, FillRule, type PathsD, unionD } from 'clipper2-ts';
import { describe, it } from 'vitest';
import { proveProgram } from './prove.js';
import { cuttingMoves, radiusOf } from './sweep.js';
import { capsules } from './testing/capsules.js';
import { SAMPLE_JOBS } from './testing/sample-features.js';
import { asText, motionsOf } from './testing/sample-jobs.js';
import { walk } from './walk.js';

/** Chords of the polygons stay this close to the arcs, mm. */
const SAG_MM = 1e-5;

describe('eroded area beside a polygon library', () => {
  for (const name of ['circle opening', 'L opening', 'punch with a hole']) {
    const make = SAMPLE_JOBS[name]!;
    it(name, () => {
      const job = make(2);
      const motions = motionsOf(asText(job.steps));
      const radius = radiusOf(job.setup);
      const shapes: PathsD = cuttingMoves(walk(motions)).flatMap((m) => capsules(m.segment, radius(m), SAG_MM));
      // Eight decimals are the most the library takes; six keep its whole numbers small.
      const theirs = areaPathsD(unionD(shapes, [], FillRule.NonZero, 6));
      const ours = proveProgram(motions, job.setup, job.features).erodedAreaMm2;
      outsideCheck({
        id: `eroded-area-${name.replaceAll(' ', '-')}`,
        what: `Area eroded by a two-pass program (${name})`,
        ours,
        theirs,
        unit: 'mm2',
        allowed: 1e-4 * theirs,
        why: 'The library unites polygons with chords within 0.01 µm of the arcs, 1e-4 of a kerf; its grid is 0.001 µm.',
        source: 'clipper2-ts 2.0.1, union of swept capsules',
        standing: 'library',
      });
    });
  }
});
