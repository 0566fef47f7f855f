import { type Problem, problem } from '@gapwright/base';
import { type Contour, distanceMm, type Point } from '@gapwright/geometry';

/** An end nearer than this to another was meant to meet it, mm: wider gaps are never closed unasked. */
const NEAR_END_MM = 0.5;
/** Below this two ends are one place, mm: what keeps them apart is a branch, not a gap. */
const SAME_END_MM = 1e-4;

interface Gap {
  readonly from: Point;
  readonly to: Point;
  readonly mm: number;
}

/**
 * That contours do not close, when nobody has said that an open cut is meant: the first of them, and the narrowest gap
 * between two ends when they lie near each other. Null when there are none.
 */
export function openContourProblem(open: readonly Contour[]): Problem | null {
  const first = open[0];
  if (first === undefined) return null;
  const { from } = first.segments[0]!;
  const { to } = first.segments[first.segments.length - 1]!;
  const gap = narrowestGap(open);
  const at = gap?.from ?? from;
  const which =
    open.length === 1
      ? `The contour from ${place(from)} to ${place(to)} does not close`
      : `${open.length} contours do not close, the first from ${place(from)} to ${place(to)}`;
  const fix =
    gap === null
      ? 'Close it in the drawing or delete what does not belong to it, leave out its layer, or state the part side (--part-side left or right) if an open cut is meant'
      : `Join the ends with --join ${roomyFor(gap.mm)}, close the contour in the drawing, or state the part side (--part-side left or right) if an open cut is meant`;
  return problem({
    code: 'PLAN-CONTOUR-OPEN',
    severity: 'stop',
    what: `${which}; ${gapText(gap, open)}`,
    fix,
    at: { xMm: at.x, yMm: at.y, field: 'openPartSide' },
  });
}

function gapText(gap: Gap | null, open: readonly Contour[]): string {
  if (gap !== null) return `a gap of ${gap.mm.toFixed(3)} mm lies between ${place(gap.from)} and ${place(gap.to)}`;
  const meeting = branches(open)[0];
  if (meeting !== undefined) return `more than two ends meet at ${place(meeting)}`;
  return open.length === 1
    ? `its ends are ${distanceMm(endsOf(open)[0]!, endsOf(open)[1]!).toFixed(2)} mm apart`
    : `no two of their ends lie within ${NEAR_END_MM} mm of each other`;
}

function endsOf(open: readonly Contour[]): Point[] {
  return open.flatMap(({ segments }) => [segments[0]!.from, segments[segments.length - 1]!.to]);
}

/** The narrowest gap between two ends that lie near each other, but not at one place. */
function narrowestGap(open: readonly Contour[]): Gap | null {
  const ends = endsOf(open).sort((a, b) => a.x - b.x);
  let best: Gap | null = null;
  for (const [i, from] of ends.entries()) {
    for (let k = i + 1; k < ends.length && ends[k]!.x - from.x <= NEAR_END_MM; k++) {
      const to = ends[k]!;
      const mm = distanceMm(from, to);
      if (mm > SAME_END_MM && mm <= NEAR_END_MM && (best === null || mm < best.mm)) best = { from, to, mm };
    }
  }
  return best;
}

/** Places where ends of open contours coincide. */
function branches(open: readonly Contour[]): Point[] {
  const ends = endsOf(open).sort((a, b) => a.x - b.x);
  return ends.filter((p, i) =>
    ends.slice(i + 1).some((q) => q.x - p.x <= SAME_END_MM && distanceMm(p, q) <= SAME_END_MM),
  );
}

function place({ x, y }: Point): string {
  return `(${x.toFixed(3)}, ${y.toFixed(3)})`;
}

/** A join length that takes in the gap: the next hundredth above it, mm. */
function roomyFor(gapMm: number): string {
  return (Math.floor(gapMm * 100 + 1 + 1e-9) / 100).toFixed(2);
}
