import { type Problem, problem } from '@gapwright/base';
import { type Box, selfIntersections } from '@gapwright/geometry';
import type { DxfDrawing, SkippedEntities } from '../dxf/drawing.js';
import { printable } from '../dxf/text-tags.js';
import type { ProfileContour } from './profile-drawing.js';
import type { DrawingUnits } from './units.js';

/** No drawing of a part is 10 km across; the units or a coordinate are wrong, and double numbers get coarse. */
const LARGEST_DRAWING_MM = 1e7;

/** Sizes of parts that spark erosion works on, with room to spare; outside them the units are worth a look, mm. */
const USUAL_LARGEST_MM = 2000;
const USUAL_SMALLEST_MM = 0.05;

/** The drawing holds nothing that can be cut. */
export function nothingToCut(drawing: DxfDrawing, skipped: readonly SkippedEntities[]): Problem {
  const kinds = skipped.map((s) => `${s.count} ${s.kind} on layer ${s.layer} (${s.reason})`);
  const list = kinds.length > 5 ? [...kinds.slice(0, 5), `and ${kinds.length - 5} more kinds`] : kinds;
  return problem({
    code: 'DXF-NOTHING-TO-CUT',
    severity: 'stop',
    what: `The drawing has no lines, arcs or curves to cut${list.length === 0 ? '' : `; left out: ${printable(list.join(', '))}`}`,
    fix: 'Check that the contours are in the model space, on visible layers and flat',
    ...(drawing.fileName === null ? {} : { at: { file: drawing.fileName } }),
  });
}

/** A drawing that reaches too far from the origin stops, before anything is made of it. */
export function reachProblem(reachMm: number, units: DrawingUnits): Problem | null {
  if (reachMm <= LARGEST_DRAWING_MM) return null;
  return problem({
    code: 'DXF-TOO-LARGE',
    severity: 'stop',
    what: `The drawing reaches ${reachMm.toPrecision(4)} mm from the origin when read in ${units}; ${LARGEST_DRAWING_MM} mm is the limit`,
    fix: 'Give the right units, or move the part near the origin',
    at: { field: '$INSUNITS' },
  });
}

/** Drawings of an unusual size get a warning, for that is how wrong units show. */
export function sizeProblem(box: Box, units: DrawingUnits): Problem[] {
  const across = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  if (across <= USUAL_LARGEST_MM && across >= USUAL_SMALLEST_MM) return [];
  return [
    problem({
      code: 'DXF-UNITS-DOUBTFUL',
      severity: 'warn',
      what: `The drawing is ${across.toPrecision(4)} mm across when read in ${units}, an unusual size for a part to erode`,
      fix: 'Check one known dimension, and give the units if they are others',
      at: { field: '$INSUNITS' },
    }),
  ];
}

/** Places that are looked for in one contour, and contours that are named one by one. */
const MOST_NAMED = 10;

/** A contour that crosses or touches itself has no clear inside, so nothing can be planned from it. */
export function crossingProblems(contours: readonly ProfileContour[], mergeMm: number): Problem[] {
  const problems: Problem[] = [];
  for (const c of contours) {
    if (problems.length === MOST_NAMED) break;
    const [first, ...others] = selfIntersections(c.contour, mergeMm, MOST_NAMED);
    if (first === undefined) continue;
    const count = others.length + 1 < MOST_NAMED ? `${others.length}` : `at least ${others.length}`;
    const more = others.length === 0 ? '' : ` and at ${count} more ${others.length === 1 ? 'place' : 'places'}`;
    problems.push(
      problem({
        code: 'DXF-CONTOUR-CROSSES-ITSELF',
        severity: 'stop',
        what: `A contour on layer ${c.layer} crosses or touches itself at (${first.x.toFixed(3)}, ${first.y.toFixed(3)}) mm${more}`,
        fix: 'Redraw it as one simple outline, or as several; or choose the layers that hold the part',
        at: { xMm: first.x, yMm: first.y, layer: c.layer, ...firstHandle(c) },
      }),
    );
  }
  return problems;
}

/** One warning per layer for contours that do not close. */
export function contourProblems(contours: readonly ProfileContour[]): Problem[] {
  const open = new Map<string, { first: ProfileContour; count: number }>();
  for (const c of contours) {
    if (c.contour.isClosed) continue;
    const known = open.get(c.layer);
    if (known === undefined) open.set(c.layer, { first: c, count: 1 });
    else known.count++;
  }
  return [...open].map(([layer, { first, count }]) => {
    const from = first.contour.segments[0]!.from;
    const to = first.contour.segments.at(-1)!.to;
    const [subject, which] = count === 1 ? ['A contour', 'it runs'] : [`${count} contours`, 'the first runs'];
    return problem({
      code: 'DXF-CONTOUR-OPEN',
      severity: 'warn',
      what: `${subject} on layer ${layer} ${count === 1 ? 'does' : 'do'} not close; ${which} from (${from.x.toFixed(3)}, ${from.y.toFixed(3)}) to (${to.x.toFixed(3)}, ${to.y.toFixed(3)}) mm`,
      fix: 'Close the contour in the drawing, allow a wider gap to be closed, or plan it as an open cut',
      at: { xMm: from.x, yMm: from.y, layer, ...firstHandle(first) },
    });
  });
}

function firstHandle(c: ProfileContour): { handle?: string } {
  const handle = c.handles[0];
  return handle === undefined ? {} : { handle };
}
