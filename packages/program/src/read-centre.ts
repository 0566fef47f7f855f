import type { Problem } from '@gapwright/base';
import { distanceMm, type Point } from '@gapwright/geometry';
import { centreFromRadius } from './arc-motion.js';
import type { Word } from './block-scanner.js';
import type { LetterRole } from './compiled-post.js';
import { LARGEST_RADIUS_MM } from './number-format.js';
import type { PostDefinition } from './post-definition.js';
import { readFailure } from './read-failure.js';

/** An arc block whose ends are known and whose centre is still to be found. */
interface OpenArc {
  readonly from: Point;
  readonly to: Point;
  readonly clockwise: boolean;
  readonly line: number;
  readonly unitMm: number;
  /** Coordinate in mm of a centre word, given the start's coordinate in mm. */
  along(startMm: number, word: Word): number;
}

/** Centre of an arc from its centre or radius words, or what is wrong with them. `word` is the block's first position word. */
export function readCentre(
  letters: Partial<Record<LetterRole, Word>>,
  word: Word,
  arc: OpenArc,
  post: PostDefinition,
): Point | Problem {
  const { from, to, line } = arc;
  const { arcs, letters: names } = post;
  const { centreX, centreY, radius } = letters;
  const fail = (code: string, at: Word, what: string, fix: string): Problem =>
    readFailure(code, line, at.column, what, fix);

  if (from.x === to.x && from.y === to.y && !arcs.fullCircles) {
    const what = 'an arc ends where it starts, which controls read as nothing or as a full circle';
    return fail('FULL-CIRCLE', word, what, 'Write two half circles');
  }
  if (radius !== undefined) {
    if (centreX !== undefined || centreY !== undefined) {
      return fail('DUPLICATE-WORD', radius, 'the arc has both a radius and a centre', 'Leave one of them');
    }
    const radiusMm = radius.value * arc.unitMm;
    const found =
      Math.abs(radiusMm) > LARGEST_RADIUS_MM
        ? null
        : centreFromRadius(from, to, radiusMm, arc.clockwise, arcs.radiusToleranceMm);
    return (
      found ?? fail('ARC-RADIUS', radius, 'no arc of this radius joins the two ends', 'Correct the radius or the ends')
    );
  }
  if ((centreX === undefined && centreY === undefined) || (arcs.bothCentreWords && (!centreX || !centreY))) {
    const what = `an arc without ${centreX === undefined ? names.centreX : names.centreY}`;
    return fail('ARC-CENTRE-MISSING', word, what, 'Give the centre of the arc');
  }
  const centre = {
    x: centreX === undefined ? from.x : arc.along(from.x, centreX),
    y: centreY === undefined ? from.y : arc.along(from.y, centreY),
  };
  const startMm = distanceMm(centre, from);
  const endMm = distanceMm(centre, to);
  if (startMm === 0 || startMm > LARGEST_RADIUS_MM) {
    return fail('ARC-RADIUS', word, `the arc has a radius of ${startMm} mm`, 'Correct its centre');
  }
  if (Math.abs(startMm - endMm) > arcs.radiusToleranceMm) {
    const what =
      `the arc has radius ${startMm.toFixed(5)} mm at its start and ${endMm.toFixed(5)} mm at its end, ` +
      `${arcs.radiusToleranceMm} mm are allowed between them`;
    return fail('ARC-RADII-DIFFER', word, what, 'Correct the centre or the end');
  }
  return centre;
}
