import { type Point, wireAccess } from '@gapwright/geometry';
import type { Drawing, LengthText, LetterPlace } from '@gapwright/papers';
import type { Plan, WireFeature } from '@gapwright/planning';

/** Corners of one size: what a letter calls out under one number. */
export interface CornerGroup {
  readonly label: string;
  /** Radius as drawn, mm; 0 when drawn sharp. In the last group the smallest of several. */
  readonly radiusMm: number;
  readonly largestMm: number;
  readonly places: readonly Point[];
}

interface Corner {
  readonly at: Point;
  readonly radiusMm: number;
}

/** Radii that differ by less are drawn the same, mm: below what any drawing means to say. */
const SAME_RADIUS_MM = 0.0005;
/** Pieces of one arc have one centre; drawings repeat it within this, mm. */
const SAME_CENTRE_MM = 0.001;
/** Numbers a reader can keep apart in one small picture; larger radii share the last. */
const MOST_GROUPS = 6;
/** With more rings than this the part can no longer be seen under them. */
const MOST_RINGS = 40;

/** Inside corners under a radius, smallest first, grouped by size and numbered. */
export function cornersUnder(radiusMm: number, plan: Plan): CornerGroup[] {
  const corners = plan.features
    .flatMap(insideCorners)
    .filter((c) => c.radiusMm < radiusMm - SAME_RADIUS_MM)
    .sort((a, b) => a.radiusMm - b.radiusMm);
  const groups: Corner[][] = [];
  for (const corner of corners) {
    const last = groups.at(-1);
    const isSame = last !== undefined && corner.radiusMm - last[0]!.radiusMm < SAME_RADIUS_MM;
    if (last !== undefined && (isSame || groups.length === MOST_GROUPS)) last.push(corner);
    else groups.push([corner]);
  }
  return groups.map((group, i) => ({
    label: `(${i + 1})`,
    radiusMm: group[0]!.radiusMm,
    largestMm: group.at(-1)!.radiusMm,
    places: group.map((c) => c.at),
  }));
}

/** The part is left of travel, so the wire runs on the right. */
function insideCorners(feature: WireFeature): Corner[] {
  const { insideArcs } = wireAccess(feature.contour, 'right');
  const out: Corner[] = feature.sharpInsideCorners.map((at) => ({ at, radiusMm: 0 }));
  const seen = new Set<string>();
  for (const { segment, radiusMm, at } of insideArcs) {
    const arc = feature.contour.segments[segment];
    if (arc?.kind !== 'arc') continue;
    const key = [arc.centre.x, arc.centre.y, radiusMm].map((v) => Math.round(v / SAME_CENTRE_MM)).join(' ');
    if (!seen.has(key)) out.push({ at, radiusMm });
    seen.add(key);
  }
  return out;
}

/** Every corner ringed, the first of each group numbered; only the numbered ones when rings would hide the part. */
export function ringed(groups: readonly CornerGroup[]): NonNullable<Drawing['places']> {
  const count = groups.reduce((n, g) => n + g.places.length, 0);
  return groups.flatMap(({ label, places }) =>
    (count > MOST_RINGS ? places.slice(0, 1) : places).map((at, i) => (i === 0 ? { at, label } : { at })),
  );
}

/** `(1)  8 corners of R 0.12 mm, the first at (−2.000, 10.500)`. */
export function cornerWords({ label, radiusMm, largestMm, places }: CornerGroup, text: LengthText): LetterPlace {
  const [first] = places;
  const many = places.length === 1 ? '1 corner' : `${places.length} corners`;
  const isSame = largestMm - radiusMm < SAME_RADIUS_MM;
  const size =
    radiusMm === 0 && isSame
      ? 'drawn sharp'
      : isSame
        ? `of R ${text.sizeWithUnit(radiusMm)}`
        : `of R ${text.size(radiusMm)} to ${text.sizeWithUnit(largestMm)}`;
  const where = `(${text.exact(first!.x)}, ${text.exact(first!.y)})`;
  return { label, says: `${many} ${size}, ${places.length === 1 ? '' : 'the first '}at ${where}` };
}
