import Flatbush from 'flatbush';
import type { LoosePiece, Repair, Run } from './chain-types.js';
import { distanceMm, type Point } from './point.js';
import { nearestPoint, pointAt, type Segment, segmentBox, segmentLengthMm } from './segment.js';

/** Cuts pieces at inner gaps, drops segments without length and lists them. */
export function connectedRuns<Tag>(
  pieces: readonly LoosePiece<Tag>[],
  mergeMm: number,
  repairs: Repair<Tag>[],
): Run<Tag>[] {
  const runs: Run<Tag>[] = [];
  for (const { segments, tag } of pieces) {
    let run: Run<Tag> | null = null;
    for (const s of segments) {
      const sizeMm = segmentLengthMm(s);
      if (!(sizeMm > mergeMm)) {
        repairs.push({ kind: 'zero length dropped', at: s.from, sizeMm, tags: [tag] });
        continue;
      }
      const last: Segment | undefined = run?.segments[run.segments.length - 1];
      if (run === null || last === undefined || distanceMm(last.to, s.from) > 2 * mergeMm) {
        run = { segments: [s], tags: [tag] };
        runs.push(run);
      } else {
        run.segments.push(s);
        run.tags.push(tag);
      }
    }
  }
  return runs;
}

/**
 * Removes single-segment runs that lie wholly on another run, trims those that overlap one in part, and removes runs all
 * of whose segments are drawn elsewhere. Of two equal ones the earlier stays, longer polylines before loose segments.
 */
export function withoutDuplicates<Tag>(runs: readonly Run<Tag>[], mergeMm: number, repairs: Repair<Tag>[]): Run<Tag>[] {
  let count = 0;
  for (const r of runs) count += r.segments.length;
  if (count < 2) return [...runs];
  const segments: Segment[] = [];
  const owner = new Int32Array(count);
  const chordX = new Float64Array(count);
  const chordY = new Float64Array(count);
  const tree = new Flatbush(count);
  runs.forEach((r, i) => {
    for (const s of r.segments) {
      owner[segments.length] = i;
      // Arcs keep no chord here: only two lines are told apart by direction.
      chordX[segments.length] = s.kind === 'line' ? s.to.x - s.from.x : 0;
      chordY[segments.length] = s.kind === 'line' ? s.to.y - s.from.y : 0;
      segments.push(s);
      const b = segmentBox(s);
      tree.add(b.minX, b.minY, b.maxX, b.maxY);
    }
  });
  tree.finish();

  /** Lines in different directions cross at most: the shorter would leave the other by more than the merge distance. */
  const mayOverlap = (a: number, b: number): boolean => {
    const cross = Math.abs(chordX[a]! * chordY[b]! - chordY[a]! * chordX[b]!);
    const la = chordX[a]! * chordX[a]! + chordY[a]! * chordY[a]!;
    const lb = chordX[b]! * chordX[b]! + chordY[b]! * chordY[b]!;
    return cross * cross <= 16 * mergeMm * mergeMm * Math.max(la, lb);
  };
  const isGone = new Uint8Array(runs.length);
  const isBefore = (a: number, b: number): boolean => {
    const la = runs[a]!.segments.length;
    const lb = runs[b]!.segments.length;
    return la > 1 !== lb > 1 ? la > 1 : a < b;
  };
  const out: (Run<Tag> | null)[] = [...runs];
  let k = 0;
  for (let i = 0; i < runs.length; i++) {
    const run = runs[i]!;
    const first = k;
    k += run.segments.length;
    const cover = run.segments.map((s, n) => {
      const b = segmentBox(s);
      const hits = tree.search(
        b.minX - mergeMm,
        b.minY - mergeMm,
        b.maxX + mergeMm,
        b.maxY + mergeMm,
        (hit) => owner[hit] !== i && mayOverlap(first + n, hit),
      );
      let partly: Segment | null = null;
      for (const hit of hits) {
        const j = owner[hit]!;
        if (isGone[j] === 1) continue;
        const other = segments[hit]!;
        if (liesOn(s, other, mergeMm)) {
          const isSame = liesOn(other, s, mergeMm);
          if (!isSame || isBefore(j, i)) return { by: j, partly: null };
        } else if (run.segments.length === 1 && isBefore(j, i) && partly === null) {
          partly = trimmed(s, other, mergeMm);
        }
      }
      return { by: -1, partly };
    });
    if (cover.every((c) => c.by >= 0)) {
      isGone[i] = 1;
      out[i] = null;
      const sizeMm = run.segments.reduce((sum, s) => sum + segmentLengthMm(s), 0);
      const tags = [run.tags[0]!, runs[cover[0]!.by]!.tags[0]!];
      repairs.push({ kind: 'duplicate removed', at: pointAt(run.segments[0]!, 0.5), sizeMm, tags });
    } else if (cover.length === 1 && cover[0]!.partly !== null) {
      const rest = cover[0]!.partly;
      const whole = run.segments[0]!;
      out[i] = { segments: [rest], tags: run.tags };
      const at = distanceMm(rest.from, whole.from) > 0 ? whole.from : whole.to;
      const sizeMm = segmentLengthMm(whole) - segmentLengthMm(rest);
      repairs.push({ kind: 'overlap trimmed', at, sizeMm, tags: run.tags });
    }
  }
  return out.filter((r) => r !== null);
}

/** True when all of `s` lies on `other`: both ends and three places between. */
function liesOn(s: Segment, other: Segment, mergeMm: number): boolean {
  const isOn = (p: Point): boolean => nearestPoint(other, p).distanceMm <= mergeMm;
  return isOn(pointAt(s, 0.5)) && isOn(s.from) && isOn(s.to) && isOn(pointAt(s, 0.25)) && isOn(pointAt(s, 0.75));
}

/** `s` without the part it shares with `other`, when one end of each lies inside the other; else null. */
function trimmed(s: Segment, other: Segment, mergeMm: number): Segment | null {
  const isOnOther = (p: Point): boolean => nearestPoint(other, p).distanceMm <= mergeMm;
  const startIsOn = isOnOther(s.from);
  if (startIsOn === isOnOther(s.to)) return null;
  for (const cut of [other.from, other.to]) {
    const found = nearestPoint(s, cut);
    if (found.distanceMm > mergeMm) continue;
    if (distanceMm(cut, s.from) <= mergeMm || distanceMm(cut, s.to) <= mergeMm) continue;
    const kept = keepFrom(s, cut, startIsOn);
    const dropped = keepFrom(s, cut, !startIsOn);
    if (liesOn(dropped, other, mergeMm)) return kept;
  }
  return null;
}

/** The part of `s` after (`true`) or before the point `cut` on it. */
function keepFrom(s: Segment, cut: Point, isAfter: boolean): Segment {
  if (s.kind === 'line') return isAfter ? { ...s, from: cut } : { ...s, to: cut };
  const ax = s.from.x - s.centre.x;
  const ay = s.from.y - s.centre.y;
  const bx = cut.x - s.centre.x;
  const by = cut.y - s.centre.y;
  const turned = Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by)) * Math.sign(s.sweepRad);
  return isAfter ? { ...s, from: cut, sweepRad: s.sweepRad - turned } : { ...s, to: cut, sweepRad: turned };
}
