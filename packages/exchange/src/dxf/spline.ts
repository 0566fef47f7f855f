import type { Point } from '@gapwright/geometry';
import { noteHeight, placeOf, type Taken } from './entity.js';
import type { Notes } from './notes.js';
import { NOT_FLAT, SAME_HEIGHT } from './plane.js';
import type { DxfRecord } from './record.js';
import { Refusal } from './refusal.js';

/** Bits of group 70 of a SPLINE. */
const IS_CLOSED = 1;
const IS_PERIODIC = 2;

/** No drawing program writes more; the cost of a point grows with the square of the degree. */
const HIGHEST_DEGREE = 25;

export function readSpline(record: DxfRecord, notes: Notes): Taken {
  const flags = record.whole(70, 'flags', 0, 0, 32_767);
  const degree = record.whole(71, 'degree', 3, 1, HIGHEST_DEGREE);
  const controlPoints = points(record, 10, 'control');
  const fitPoints = points(record, 11, 'fit');
  const isPeriodic = (flags & IS_PERIODIC) !== 0;
  const isClosed = isPeriodic || (flags & IS_CLOSED) !== 0;
  if (controlPoints.xy.length === 0 && fitPoints.xy.length === 0) {
    refuse(record, 'has neither control points nor fit points');
  }
  const used = controlPoints.xy.length > 0 ? controlPoints : fitPoints;
  if (used.highest - used.lowest > SAME_HEIGHT) return { skip: NOT_FLAT };
  noteHeight(record, used.lowest, notes);
  if (controlPoints.xy.length === 0) return throughPoints(record, fitPoints.xy, isClosed, notes);

  const first = controlPoints.xy[0]!;
  if (controlPoints.xy.every((p) => p.x === first.x && p.y === first.y)) return { skip: 'has no length' };
  const knots = record.all(40);
  const weights = record.all(41);
  const count = controlPoints.xy.length;
  checkCount(record, 73, count, 'control points');
  checkCount(record, 72, knots.length, 'knots');
  const isOnePeriod = isPeriodic && knots.length === count + 1;
  if (count < degree + 1) refuse(record, `has ${count} control points; degree ${degree} needs at least ${degree + 1}`);
  if (!isOnePeriod && knots.length !== count + degree + 1) {
    refuse(record, `has ${knots.length} knots; ${count} control points of degree ${degree} need ${count + degree + 1}`);
  }
  for (let i = 1; i < knots.length; i++) {
    if (knots[i]! < knots[i - 1]!) refuse(record, `has falling knots (${knots[i - 1]} then ${knots[i]})`);
  }
  if (!(knots[count]! > knots[isOnePeriod ? 0 : degree]!)) refuse(record, 'has an empty range of knots');
  if (weights.length !== 0 && weights.length !== count) {
    refuse(record, `has ${weights.length} weights for ${count} control points`);
  }
  if (weights.some((w) => !(w > 0))) refuse(record, 'has a weight that is not above 0');
  if (isOnePeriod) {
    notes.add(
      'DXF-SPLINE-ONE-PERIOD',
      'warn',
      `${record.label()} gives its knots for one period only; it is taken as a closed spline with that period`,
      'Compare the contour with the drawing',
      record.place(),
    );
  }
  const isRational = weights.some((w) => w !== weights[0]);
  return {
    kind: 'spline',
    ...placeOf(record),
    degree,
    knots,
    controlPoints: controlPoints.xy,
    weights: isRational ? weights : null,
    isClosed,
    isPeriodic,
  };
}

function throughPoints(record: DxfRecord, fitPoints: Point[], isClosed: boolean, notes: Notes): Taken {
  checkCount(record, 74, fitPoints.length, 'fit points');
  const first = fitPoints[0]!;
  if (fitPoints.every((p) => p.x === first.x && p.y === first.y)) return { skip: 'has no length' };
  notes.add(
    'DXF-SPLINE-FIT-POINTS',
    'warn',
    `${record.label()} gives only points to pass through; between them it is drawn as a cubic spline by chord length, which may differ from the program that drew it`,
    'Export the spline with its control points',
    record.place(),
  );
  return {
    kind: 'fit-spline',
    ...placeOf(record),
    points: fitPoints,
    startTangent: tangent(record, 12, 22),
    endTangent: tangent(record, 13, 23),
    isClosed,
  };
}

function tangent(record: DxfRecord, codeX: number, codeY: number): Point | null {
  const x = record.optional(codeX, 0);
  const y = record.optional(codeY, 0);
  return x === 0 && y === 0 ? null : { x, y };
}

/** Points whose x, y, z are in `codeX`, `codeX + 10`, `codeX + 20`, each x followed by its own y and z. */
function points(record: DxfRecord, codeX: number, what: string): { xy: Point[]; lowest: number; highest: number } {
  const xy: Point[] = [];
  let x = Number.NaN;
  let y = Number.NaN;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  let z = 0;
  let isOpen = false;
  const finish = (): void => {
    if (!isOpen) return;
    if (Number.isNaN(y)) refuse(record, `has a ${what} point without y`);
    xy.push({ x, y });
    lowest = Math.min(lowest, z);
    highest = Math.max(highest, z);
  };
  for (let i = 0; i < record.count; i++) {
    const code = record.codes[i]!;
    const value = record.values[i]!;
    if (code === codeX) {
      finish();
      isOpen = true;
      x = value;
      y = Number.NaN;
      z = 0;
    } else if (code === codeX + 10) {
      if (!isOpen || !Number.isNaN(y)) refuse(record, `has a ${what} point without x`);
      y = value;
    } else if (code === codeX + 20) z = value;
  }
  finish();
  return { xy, lowest, highest };
}

function checkCount(record: DxfRecord, code: number, found: number, what: string): void {
  const declared = record.optional(code, found);
  if (declared !== found) refuse(record, `announces ${declared} ${what} but has ${found}`);
}

function refuse(record: DxfRecord, what: string): never {
  throw new Refusal(
    'DXF-BAD-SPLINE',
    `${record.label()} ${what}`,
    'Redraw the spline or export the drawing again',
    record.place(),
  );
}
