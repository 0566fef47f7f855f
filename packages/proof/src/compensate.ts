import { type Problem, problem } from '@gapwright/base';
import { distanceMm, line, type Point, pointAt, type Segment, tangentAt } from '@gapwright/geometry';
import { cornerArc, cross, crossings, cutSegment, dot, fractionAt, offsetBlock } from './offset-block.js';
import { JOIN_GAP_MM, SAME_POINT_MM } from './tolerances.js';

/** What a piece of the wire's path belongs to. */
export type PieceRole = 'entry' | 'contour' | 'corner' | 'exit';

/** One piece of the compensated path. `block` is the index of the programmed block it comes from. */
export interface CompensatedPiece {
  readonly segment: Segment;
  readonly role: PieceRole;
  readonly block: number;
}

/** A programmed block under compensation. `line` is its line in the program text. */
export interface ProgrammedBlock {
  /** At most half a turn each; a block of the text may have given several. */
  readonly segment: Segment;
  readonly line: number;
}

export interface CompensatedPath {
  readonly pieces: readonly CompensatedPiece[];
  /** Set when the controller would stop with an alarm; `pieces` then ends at the block before. */
  readonly alarm: Problem | null;
}

/** Below this turn between two blocks the joint counts as straight on, rad. */
const STRAIGHT_RAD = 1e-9;

/**
 * The path of the wire centre for a run of blocks under one compensation, as a controller makes it:
 * the first block leads to the start of the next block's offset path (at right angles to it), inside corners are cut
 * where the offset paths meet, outside corners get an arc around the corner, arcs change their radius.
 * `start` is where the wire stands; `leftMm` is positive for the left side. When `exit` is given, the path leaves the
 * end of the last offset block in a straight line to it. `entry` false skips the lead: the first block is offset too.
 */
export function compensate(
  start: Point,
  blocks: readonly ProgrammedBlock[],
  leftMm: number,
  exit: Point | null = null,
  entry = true,
): CompensatedPath {
  const pieces: CompensatedPiece[] = [];
  const first = blocks[0];
  if (first === undefined) return { pieces, alarm: null };
  if (entry && first.segment.kind === 'arc') {
    return {
      pieces,
      alarm: alarm(
        'PROOF-COMP-ENTRY-ARC',
        first,
        'compensation is switched on in an arc',
        'Switch it on in a straight lead-in',
      ),
    };
  }
  const from = entry ? 1 : 0;
  let finish: CompensatedPath['alarm'] = null;
  let last: { piece: Segment; source: ProgrammedBlock; block: number } | null = null;
  for (let i = from; i < blocks.length; i++) {
    const source = blocks[i]!;
    let piece = offsetBlock(source.segment, leftMm);
    if (piece === null) {
      const r = source.segment.kind === 'arc' ? source.segment.radiusMm : 0;
      finish = alarm(
        'PROOF-ARC-TOO-SMALL',
        source,
        `the arc of radius ${r.toFixed(4)} mm is smaller than the offset ${Math.abs(leftMm).toFixed(4)} mm`,
        'Use a larger radius or a thinner wire',
      );
      break;
    }
    if (last === null) {
      if (entry) pushUnlessTiny(pieces, line(start, piece.from), 'entry', 0);
    } else {
      const joint = join(last.piece, last.source.segment, piece, source.segment, leftMm);
      if (joint === null) {
        finish = alarm(
          'PROOF-CORNER-NO-ROOM',
          source,
          'the offset paths of two blocks at an inside corner do not meet: the wire does not fit',
          'Use a thinner wire or a larger corner',
        );
        break;
      }
      pushUnlessTiny(pieces, joint.before, 'contour', last.block);
      if (joint.link !== null) pushUnlessTiny(pieces, joint.link, 'corner', i);
      piece = joint.after;
    }
    last = { piece, source, block: i };
  }
  if (last !== null) pushUnlessTiny(pieces, last.piece, 'contour', last.block);
  else if (finish === null && entry) {
    // Only the lead itself is under compensation: it ends at right angles to its own direction.
    const own = offsetBlock(first.segment, leftMm)!;
    pushUnlessTiny(pieces, line(start, own.to), 'entry', 0);
  }
  if (finish === null && exit !== null) {
    const end = pieces.at(-1)?.segment.to ?? start;
    pushUnlessTiny(pieces, line(end, exit), 'exit', blocks.length);
  }
  return { pieces, alarm: finish };
}

function alarm(code: string, at: ProgrammedBlock, what: string, fix: string): Problem {
  const { x, y } = at.segment.from;
  return problem({
    code,
    severity: 'stop',
    what: `Line ${at.line}: ${what}`,
    fix,
    at: { line: at.line, xMm: x, yMm: y },
  });
}

function pushUnlessTiny(pieces: CompensatedPiece[], segment: Segment, role: PieceRole, block: number): void {
  if (segment.kind === 'line' && distanceMm(segment.from, segment.to) <= SAME_POINT_MM) return;
  if (segment.kind === 'arc' && segment.radiusMm * Math.abs(segment.sweepRad) <= SAME_POINT_MM) return;
  pieces.push({ segment, role, block });
}

interface Joint {
  readonly before: Segment;
  readonly link: Segment | null;
  readonly after: Segment;
}

/** Joins the offset paths of two consecutive blocks; null when an inside corner has no room for the wire. */
function join(a: Segment, programmedA: Segment, b: Segment, programmedB: Segment, leftMm: number): Joint | null {
  const gap = distanceMm(a.to, b.from);
  if (gap <= SAME_POINT_MM) return { before: a, link: null, after: b };
  const ta = tangentAt(programmedA, 1);
  const tb = tangentAt(programmedB, 0);
  const turn = Math.atan2(cross(ta, tb), dot(ta, tb));
  const isReversal = Math.abs(turn) > Math.PI - STRAIGHT_RAD;
  const isInside = !isReversal && (leftMm > 0 ? turn > 0 : turn < 0);
  if (!isInside) return { before: a, link: cornerArc(programmedA.to, a.to, b.from, leftMm), after: b };
  // The last crossing before the corner counts: it is the one nearest to both ends.
  let meet: Point | null = null;
  let nearest = Number.POSITIVE_INFINITY;
  for (const p of crossings(a, b)) {
    const d = distanceMm(p, a.to) + distanceMm(p, b.from);
    if (d < nearest) {
      nearest = d;
      meet = p;
    }
  }
  if (meet !== null && fractionAt(a, meet) > -STRAIGHT_RAD && fractionAt(b, meet) < 1 + STRAIGHT_RAD) {
    return { before: cutSegment(a, a.from, meet), link: null, after: cutSegment(b, meet, b.to) };
  }
  // Tangent blocks whose rounded ends turn inwards by a hair: bridged, as they would be without the rounding.
  if (gap <= JOIN_GAP_MM) return { before: a, link: line(a.to, b.from), after: b };
  return null;
}

/**
 * Half-turn pieces of an arc block given by end points, centre and direction; a full turn when the ends coincide.
 * Rounded text gives an arc two slightly different radii; the centre is moved along the chord until both agree, so that
 * the arc starts and ends where the text says.
 */
export function arcBlock(from: Point, to: Point, textCentre: Point, clockwise: boolean): Segment[] {
  const isFullTurn = distanceMm(from, to) <= SAME_POINT_MM;
  let centre = isFullTurn ? textCentre : ontoBisector(from, to, textCentre);
  let sweep = sweepAbout(from, to, centre, clockwise, isFullTurn);
  if (Math.abs(sweep) > Math.PI && distanceMm(centre, textCentre) > JOIN_GAP_MM) {
    // The ends of a nearly full turn are too close together to tell where its centre is.
    centre = textCentre;
    sweep = sweepAbout(from, to, centre, clockwise, isFullTurn);
  }
  const whole: Segment = { kind: 'arc', from, to, centre, radiusMm: distanceMm(centre, from), sweepRad: sweep };
  if (Math.abs(sweep) <= Math.PI + STRAIGHT_RAD) return [whole];
  const middle = pointAt(whole, 0.5);
  return [
    { ...whole, to: middle, sweepRad: sweep / 2 },
    { ...whole, from: middle, sweepRad: sweep / 2 },
  ];
}

/** The point nearest to `p` that is equally far from both ends. */
function ontoBisector(from: Point, to: Point, p: Point): Point {
  const u = tangentAt(line(from, to), 0);
  const off = dot({ x: p.x - (from.x + to.x) / 2, y: p.y - (from.y + to.y) / 2 }, u);
  return { x: p.x - u.x * off, y: p.y - u.y * off };
}

function sweepAbout(from: Point, to: Point, centre: Point, clockwise: boolean, isFullTurn: boolean): number {
  if (isFullTurn) return clockwise ? -2 * Math.PI : 2 * Math.PI;
  const a = { x: from.x - centre.x, y: from.y - centre.y };
  const b = { x: to.x - centre.x, y: to.y - centre.y };
  const sweep = Math.atan2(cross(a, b), dot(a, b));
  if (clockwise && sweep > 0) return sweep - 2 * Math.PI;
  return !clockwise && sweep < 0 ? sweep + 2 * Math.PI : sweep;
}
