import { BugError } from '@gapwright/base';
import { arcPieces, distanceMm, line, type Point, type Segment } from '@gapwright/geometry';
import type { Motion } from './motion.js';

type ArcMotion = Extract<Motion, { kind: 'arc' }>;

/** Signed sweep of an arc motion, counter-clockwise positive; equal ends mean a full turn. */
export function arcSweepRad(arc: Pick<ArcMotion, 'from' | 'to' | 'centre' | 'clockwise'>): number {
  const { from, to, centre, clockwise } = arc;
  const turn = clockwise ? -2 * Math.PI : 2 * Math.PI;
  if (from.x === to.x && from.y === to.y) return turn;
  const fx = from.x - centre.x;
  const fy = from.y - centre.y;
  const tx = to.x - centre.x;
  const ty = to.y - centre.y;
  const angle = Math.atan2(fx * ty - fy * tx, fx * tx + fy * ty);
  if (clockwise) return angle > 0 ? angle + turn : angle;
  return angle < 0 ? angle + turn : angle;
}

/**
 * The path of a cutting motion as segments of at most half a turn. The ends are the programmed ones exactly; between
 * them the radius is the one at the start.
 */
export function motionSegments(motion: Motion): Segment[] {
  if (motion.kind === 'line' || motion.kind === 'rapid') return [line(motion.from, motion.to)];
  if (motion.kind !== 'arc') throw new BugError(`a ${motion.kind} has no path`);
  const { from, to, centre } = motion;
  const pieces = arcPieces(
    centre,
    distanceMm(centre, from),
    Math.atan2(from.y - centre.y, from.x - centre.x),
    arcSweepRad(motion),
  );
  return pieces.map((piece, i) =>
    piece.kind === 'arc'
      ? { ...piece, from: i === 0 ? from : piece.from, to: i === pieces.length - 1 ? to : piece.to }
      : piece,
  );
}

/** Centre of the arc with a radius word; negative radii take the longer way. Null when the ends are too far apart. */
export function centreFromRadius(
  from: Point,
  to: Point,
  radiusMm: number,
  clockwise: boolean,
  toleranceMm: number,
): Point | null {
  const chord = distanceMm(from, to);
  const radius = Math.abs(radiusMm);
  if (chord === 0 || radius === 0 || chord / 2 > radius + toleranceMm) return null;
  const height = Math.sqrt(Math.max(0, radius * radius - (chord * chord) / 4));
  // Counter-clockwise the short way, the centre lies left of the chord.
  const side = clockwise === radiusMm > 0 ? -height : height;
  return {
    x: (from.x + to.x) / 2 - (side * (to.y - from.y)) / chord,
    y: (from.y + to.y) / 2 + (side * (to.x - from.x)) / chord,
  };
}
