/** Degrees per radian turn. */
const HALF_TURN_DEG = 180;

/** Radians of an angle in degrees, brought to one turn first so that whole turns cost no accuracy. */
export function radians(degrees: number): number {
  return ((degrees % 360) * Math.PI) / HALF_TURN_DEG;
}

/** Sweep from one angle counter-clockwise to another, in degrees, above 0 and up to 360. Equal angles are a full turn. */
export function sweepDegrees(startDegrees: number, endDegrees: number): number {
  const sweep = (endDegrees - startDegrees) % 360;
  return sweep > 0 ? sweep : sweep + 360;
}
