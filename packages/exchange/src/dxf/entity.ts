import type { Point } from '@gapwright/geometry';
import { radians, sweepDegrees } from './angle.js';
import type { DxfEntity, EntityPlace } from './drawing.js';
import type { Notes } from './notes.js';
import { facingOf, NOT_FLAT, SAME_HEIGHT, TILTED } from './plane.js';
import type { DxfRecord } from './record.js';
import { Refusal } from './refusal.js';

/** An entity, or why it is not taken. */
export type Taken = DxfEntity | { readonly skip: string };

export function placeOf(record: DxfRecord): EntityPlace {
  return { layer: record.layer, handle: record.handle, position: record.position };
}

/** Tells once that flat entities lie above or below z = 0. */
export function noteHeight(record: DxfRecord, z: number, notes: Notes): void {
  if (Math.abs(z) <= SAME_HEIGHT) return;
  notes.add(
    'DXF-NOT-AT-ZERO',
    'info',
    `${record.label()} lies at z = ${z}; it is taken as if it lay at z = 0`,
    'Nothing to do if all contours belong to one plane',
    record.place(),
  );
}

export function readLine(record: DxfRecord, notes: Notes): Taken {
  const z1 = record.optional(30, record.optional(38, 0));
  const z2 = record.optional(31, z1);
  const from = { x: record.required(10, 'start x'), y: record.required(20, 'start y') };
  const to = { x: record.required(11, 'end x'), y: record.required(21, 'end y') };
  if (Math.abs(z1 - z2) > SAME_HEIGHT) return { skip: NOT_FLAT };
  if (from.x === to.x && from.y === to.y) return { skip: 'has no length' };
  noteHeight(record, z1, notes);
  return { kind: 'line', ...placeOf(record), from, to };
}

export function readCircle(record: DxfRecord, notes: Notes): Taken {
  const found = centreAndRadius(record, notes);
  if (found === null) return { skip: TILTED };
  return { kind: 'circle', ...placeOf(record), centre: found.centre, radius: found.radius };
}

export function readArc(record: DxfRecord, notes: Notes): Taken {
  const found = centreAndRadius(record, notes);
  const start = record.required(50, 'start angle');
  const end = record.required(51, 'end angle');
  if (found === null) return { skip: TILTED };
  if (start === end) {
    notes.add(
      'DXF-ARC-FULL-TURN',
      'warn',
      `${record.label()} starts and ends at ${start} degrees; it is taken as a full circle`,
      'Draw a circle if that is meant, or delete the arc',
      record.place(),
    );
  }
  const sweepRad = radians(sweepDegrees(start, end)) || 2 * Math.PI;
  const { centre, radius, isMirrored } = found;
  return {
    kind: 'arc',
    ...placeOf(record),
    centre,
    radius,
    startRad: isMirrored ? Math.PI - radians(start) : radians(start),
    sweepRad: isMirrored ? -sweepRad : sweepRad,
  };
}

/** Null when the plane is tilted; refuses radii that are not above 0. */
function centreAndRadius(
  record: DxfRecord,
  notes: Notes,
): { centre: Point; radius: number; isMirrored: boolean } | null {
  const x = record.required(10, 'centre x');
  const y = record.required(20, 'centre y');
  const radius = record.required(40, 'radius');
  if (!(radius > 0)) {
    throw new Refusal(
      'DXF-BAD-RADIUS',
      `${record.label()} has the radius ${radius}; it must be above 0`,
      'Delete or redraw it, and export the drawing again',
      record.place(),
    );
  }
  const facing = facingOf(record);
  if (facing === 'tilted') return null;
  noteHeight(record, record.optional(30, record.optional(38, 0)), notes);
  const isMirrored = facing === 'down';
  return { centre: { x: isMirrored ? -x : x, y }, radius, isMirrored };
}

export function readEllipse(record: DxfRecord, notes: Notes): Taken {
  const centre = { x: record.required(10, 'centre x'), y: record.required(20, 'centre y') };
  const major = { x: record.required(11, 'major axis x'), y: record.required(21, 'major axis y') };
  const ratio = record.required(40, 'ratio of the axes');
  const start = record.optional(41, 0);
  const end = record.optional(42, 2 * Math.PI);
  const size = Math.sqrt(major.x * major.x + major.y * major.y);
  const facing = facingOf(record);
  if (facing === 'tilted' || Math.abs(record.optional(31, 0)) > SAME_HEIGHT) return { skip: TILTED };
  if (!(size > 0) || ratio === 0) {
    throw new Refusal(
      'DXF-BAD-RADIUS',
      `${record.label()} has a major axis of ${size} and a ratio of ${ratio}; neither may be 0`,
      'Delete or redraw it, and export the drawing again',
      record.place(),
    );
  }
  if (Math.abs(ratio) > MOST_AXIS_RATIO) {
    notes.add(
      'DXF-ELLIPSE-RATIO',
      'info',
      `${record.label()} has a minor axis longer than its major axis (ratio ${ratio}); it is taken as written`,
      'Nothing to do if the ellipse looks right',
      record.place(),
    );
  }
  noteHeight(record, record.optional(30, 0), notes);
  const turn = 2 * Math.PI;
  const sweep = (end - start) % turn;
  return {
    kind: 'ellipse',
    ...placeOf(record),
    centre,
    major,
    ratio: facing === 'up' ? ratio : -ratio,
    startRad: start,
    // End parameters are written with rounding; a whole turn must not shrink to nothing.
    sweepRad: Math.abs(sweep) < FULL_TURN_SLACK_RAD || sweep === 0 ? turn : sweep > 0 ? sweep : sweep + turn,
  };
}

/** The DXF reference allows ratios up to 1; rounding of equal axes may exceed it a little. */
const MOST_AXIS_RATIO = 1 + 1e-6;

/** Parameters this near to a whole turn mean the whole ellipse: written parameters carry 6 to 16 decimals. */
const FULL_TURN_SLACK_RAD = 1e-6;

/** Most rows or columns of one insert; what they multiply to is bounded when the drawing is expanded. */
const MOST_COPIES = 32_767;

export function readInsert(record: DxfRecord): Taken {
  const facing = facingOf(record);
  const x = record.required(10, 'insertion x');
  const y = record.required(20, 'insertion y');
  const scaleX = record.optional(41, 1);
  const scaleY = record.optional(42, 1);
  const columns = record.whole(70, 'columns', 1, 0, MOST_COPIES);
  const rows = record.whole(71, 'rows', 1, 0, MOST_COPIES);
  const block = record.name;
  if (block === null || block === '') {
    throw new Refusal(
      'DXF-MISSING-VALUE',
      `${record.label()} does not name the block it places (group 2)`,
      'Delete it, and export the drawing again',
      record.place(),
    );
  }
  if (scaleX === 0 || scaleY === 0) {
    throw new Refusal(
      'DXF-BAD-VALUE',
      `${record.label()} has the scale 0, which leaves nothing of the block`,
      'Delete or redraw it, and export the drawing again',
      record.place(),
    );
  }
  if (facing === 'tilted') return { skip: TILTED };
  return {
    kind: 'insert',
    ...placeOf(record),
    block,
    at: { x: facing === 'down' ? -x : x, y },
    scaleX,
    scaleY,
    rotationRad: radians(record.optional(50, 0)),
    columns: Math.max(1, columns),
    rows: Math.max(1, rows),
    columnStep: record.optional(44, 0),
    rowStep: record.optional(45, 0),
    isMirrored: facing === 'down',
  };
}
