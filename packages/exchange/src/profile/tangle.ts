import { type Problem, problem } from '@gapwright/base';
import { indexSegments, type Segment, segmentBox } from '@gapwright/geometry';

/**
 * Most pairs of lines that may lie over one another. Real drawings have a few per line; a scribble of 4,000 long lines
 * has as many as this, and what is asked of every pair later would take from seconds to hours.
 */
const MOST_PAIRS = 5_000_000;

/** Lines, spread over the drawing, from which the number of pairs is estimated. */
const SAMPLES = 200;

/** A stop problem when so many lines lie over one another that no contour can be followed in reasonable time. */
export function tangleProblem(segments: readonly Segment[]): Problem | null {
  // Below this even all pairs together are few.
  if (segments.length * segments.length <= 2 * MOST_PAIRS) return null;
  const index = indexSegments(segments);
  const step = Math.max(1, Math.floor(segments.length / SAMPLES));
  let samples = 0;
  let neighbours = 0;
  for (let i = 0; i < segments.length; i += step) {
    samples++;
    neighbours += index.search(segmentBox(segments[i]!)).length - 1;
  }
  const pairs = (neighbours / samples / 2) * segments.length;
  if (pairs <= MOST_PAIRS) return null;
  return problem({
    code: 'DXF-TOO-TANGLED',
    severity: 'stop',
    what: `The drawing has ${segments.length.toLocaleString('en')} lines, of which some ${Math.round(pairs / 1e6).toLocaleString('en')} million pairs lie over one another; no contour can be told apart`,
    fix: 'Choose the layers that hold the part, or delete hatching and pictures',
  });
}
