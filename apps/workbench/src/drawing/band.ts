import type { Point } from '@gapwright/geometry';
import type { SceneBand } from '@gapwright/job';

/** Numbers per band sample: x, y, deviationMm. */
const SAMPLE = 3;
/** On its own, the largest deviation or the tolerance is drawn about this far from the contour, CSS pixels. */
const AUTO_REACH_PX = 18;
/** Largest and smallest magnification on offer; below 1 the band would be made smaller than it is. */
const FACTORS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000] as const;

export const BAND_FACTORS: readonly number[] = FACTORS;

/** The magnification at which the largest deviation or tolerance reaches a readable distance on the screen. */
export function autoFactor(bands: readonly SceneBand[], toleranceMm: number | null, pxPerMm: number): number {
  let largest = toleranceMm ?? 0;
  for (const { samples } of bands) {
    for (let i = 2; i < samples.length; i += SAMPLE) largest = Math.max(largest, Math.abs(samples[i]!));
  }
  if (largest === 0) return FACTORS[FACTORS.length - 1]!;
  const wanted = AUTO_REACH_PX / (largest * pxPerMm);
  let best: number = FACTORS[0];
  for (const f of FACTORS) if (f <= wanted) best = f;
  return best;
}

/**
 * Unit normals that point out of the enclosed area, two numbers per sample; of an open contour, to the left of travel.
 * Each is the mean of the normals of the two neighbouring chords.
 */
export function outwardNormals(band: SceneBand): Float64Array {
  const { samples, isClosed } = band;
  const n = samples.length / SAMPLE;
  const normals = new Float64Array(n * 2);
  let twiceArea = 0;
  for (let i = 0; i < n; i++) {
    const j = i + 1 === n ? 0 : i + 1;
    if (j === 0 && !isClosed) break;
    twiceArea += samples[i * SAMPLE]! * samples[j * SAMPLE + 1]! - samples[j * SAMPLE]! * samples[i * SAMPLE + 1]!;
  }
  // Left of travel is (-dy, dx); outside of a counter-clockwise contour is to the right.
  const side = isClosed && twiceArea > 0 ? -1 : 1;
  for (let i = 0; i < n; i++) {
    const before = i > 0 ? i - 1 : isClosed ? n - 1 : i;
    const after = i < n - 1 ? i + 1 : isClosed ? 0 : i;
    let nx = 0;
    let ny = 0;
    for (const [a, b] of [
      [before, i],
      [i, after],
    ] as const) {
      const dx = samples[b * SAMPLE]! - samples[a * SAMPLE]!;
      const dy = samples[b * SAMPLE + 1]! - samples[a * SAMPLE + 1]!;
      const length = Math.sqrt(dx * dx + dy * dy);
      if (length === 0) continue;
      nx -= dy / length;
      ny += dx / length;
    }
    const length = Math.sqrt(nx * nx + ny * ny);
    if (length === 0) continue;
    normals[i * 2] = (side * nx) / length;
    normals[i * 2 + 1] = (side * ny) / length;
  }
  return normals;
}

/** The line of the band: each sample moved along its normal by `factor` times its deviation. x, y pairs, mm. */
export function bandLine(band: SceneBand, normals: Float64Array, factor: number): Float64Array {
  const n = band.samples.length / SAMPLE;
  const out = new Float64Array(n * 2);
  for (let i = 0; i < n; i++) {
    const reach = band.samples[i * SAMPLE + 2]! * factor;
    out[i * 2] = band.samples[i * SAMPLE]! + normals[i * 2]! * reach;
    out[i * 2 + 1] = band.samples[i * SAMPLE + 1]! + normals[i * 2 + 1]! * reach;
  }
  return out;
}

/** The line of one tolerance limit: every sample moved by the same magnified distance. */
export function limitLine(band: SceneBand, normals: Float64Array, limitMm: number, factor: number): Float64Array {
  const n = band.samples.length / SAMPLE;
  const out = new Float64Array(n * 2);
  for (let i = 0; i < n; i++) {
    out[i * 2] = band.samples[i * SAMPLE]! + normals[i * 2]! * limitMm * factor;
    out[i * 2 + 1] = band.samples[i * SAMPLE + 1]! + normals[i * 2 + 1]! * limitMm * factor;
  }
  return out;
}

/** A place where the wall is furthest off. */
export interface WorstPoint {
  readonly at: Point;
  readonly normal: Point;
  readonly deviationMm: number;
  readonly feature: string;
}

/** Of each band the point with most rest and the one with most undercut, largest first, `most` in all. */
export function worstPoints(bands: readonly SceneBand[], most: number): WorstPoint[] {
  const found: WorstPoint[] = [];
  for (const band of bands) {
    const { samples } = band;
    let highest = -1;
    let lowest = -1;
    for (let i = 0; i < samples.length / SAMPLE; i++) {
      const d = samples[i * SAMPLE + 2]!;
      if (d > 0 && (highest < 0 || d > samples[highest * SAMPLE + 2]!)) highest = i;
      if (d < 0 && (lowest < 0 || d < samples[lowest * SAMPLE + 2]!)) lowest = i;
    }
    const normals = outwardNormals(band);
    for (const i of [highest, lowest]) {
      if (i < 0) continue;
      found.push({
        at: { x: samples[i * SAMPLE]!, y: samples[i * SAMPLE + 1]! },
        normal: { x: normals[i * 2]!, y: normals[i * 2 + 1]! },
        deviationMm: samples[i * SAMPLE + 2]!,
        feature: band.feature,
      });
    }
  }
  return found.sort((a, b) => Math.abs(b.deviationMm) - Math.abs(a.deviationMm)).slice(0, most);
}
