import { segmentLengthMm } from '@gapwright/geometry';
import { radiusOf, type WireMove, walk } from '@gapwright/proof';
import type { ProvenProgram } from '../run-job.js';
import { packPaths } from './pack-paths.js';
import type { SceneBand, SceneWalk } from './scene.js';

const NUMBERS_PER_SAMPLE = 3;

/** How far the finished wall is from the drawing along each feature. */
export function errorBands({ operation, proof }: ProvenProgram, isClosed: (feature: string) => boolean): SceneBand[] {
  return proof.features.map(({ id, errorBand }): SceneBand => {
    const samples = new Float64Array(errorBand.length * NUMBERS_PER_SAMPLE);
    for (const [i, { at, deviationMm }] of errorBand.entries()) {
      samples[i * NUMBERS_PER_SAMPLE] = at.x;
      samples[i * NUMBERS_PER_SAMPLE + 1] = at.y;
      samples[i * NUMBERS_PER_SAMPLE + 2] = deviationMm;
    }
    return { operation, feature: id, samples, isClosed: isClosed(id) };
  });
}

/** The wire's real path through a program, with the moments that need a person. */
export function programWalk({ operation, motions, setup }: ProvenProgram): SceneWalk {
  const { moves, events } = walk(motions);
  const radius = radiusOf(setup);
  const endMin = new Float64Array(moves.length);
  const cuts = new Uint8Array(moves.length);
  const lines = new Uint32Array(moves.length);
  const halfKerfMm = new Float32Array(moves.length);
  let burnMin = 0;
  for (const [i, move] of moves.entries()) {
    if (isCut(move)) {
      burnMin += segmentLengthMm(move.segment) / move.feedMmPerMin;
      cuts[i] = 1;
    }
    endMin[i] = burnMin;
    lines[i] = move.line;
    halfKerfMm[i] = radius(move);
  }
  // Events come in program order, as moves do.
  let next = 0;
  const stops = events
    .filter((e) => e.kind === 'stop' || e.kind === 'optional-stop')
    .map((e) => {
      const motion = motions[e.motion];
      const says = motion?.kind === 'stop' && motion.text !== '' ? motion.text : 'Stop';
      while (next < moves.length && moves[next]!.motion <= e.motion) next++;
      return { atMin: next === 0 ? 0 : endMin[next - 1]!, line: e.line, says, at: e.at };
    });
  const paths = packPaths(moves.map((m) => ({ segments: [m.segment], isClosed: false })));
  return { operation, paths, endMin, cuts, lines, halfKerfMm, stops };
}

function isCut(move: WireMove): boolean {
  return !move.rapid && move.threaded && move.feedMmPerMin > 0;
}
