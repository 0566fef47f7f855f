import { type Problem, problem } from '@gapwright/base';
import Flatbush from 'flatbush';
import { closestApproach } from './closest-approach.js';
import { areaMm2, type Contour, contourBox } from './contour.js';
import { boundaryDistanceMm, containsPoint } from './inside.js';
import type { Point } from './point.js';
import { pointAt, type Segment, segmentBox } from './segment.js';

/** A contour with what lies directly inside it. */
export interface Region {
  /** Index of the contour in the input. */
  readonly outer: number;
  /** Number of contours around it: even ones bound material from outside (parts), odd ones are openings. */
  readonly depth: number;
  readonly isOpening: boolean;
  /** Contours directly inside: the openings of a part, or the parts that lie in an opening. */
  readonly holes: readonly Region[];
}

export interface Nesting {
  readonly regions: readonly Region[];
  /** For each contour the contour directly around it; null for outermost ones and for duplicates. */
  readonly parents: readonly (number | null)[];
  /** Contours that repeat an earlier one, with that one; they are in no region. */
  readonly duplicates: readonly { readonly index: number; readonly of: number }[];
  /** `GEOMETRY-CONTOURS-CROSS`, `GEOMETRY-CONTOUR-TWICE`, `GEOMETRY-CONTOUR-OPEN`. */
  readonly problems: readonly Problem[];
}

/** Contours closer than this touch, mm: below the finest wire step, above the rounding of drawings. */
export const TOUCH_MM = 1e-4;

/**
 * Sorts closed contours by containment. Contours that cross or touch are reported with the place; they are still placed
 * by the parts of them that lie apart.
 */
export function nestContours(closed: readonly Contour[], touchMm: number = TOUCH_MM): Nesting {
  const problems: Problem[] = [];
  const usable: number[] = [];
  closed.forEach((c, i) => {
    if (c.isClosed && c.segments.length > 0) usable.push(i);
    else problems.push(openProblem(c, i));
  });
  const parents: (number | null)[] = closed.map(() => null);
  if (usable.length === 0) return { regions: [], parents, duplicates: [], problems };

  const boxes = closed.map(contourBox);
  const tree = new Flatbush(usable.length);
  for (const i of usable) tree.add(boxes[i]!.minX, boxes[i]!.minY, boxes[i]!.maxX, boxes[i]!.maxY);
  tree.finish();
  const near = (i: number): number[] =>
    tree
      .search(boxes[i]!.minX - touchMm, boxes[i]!.minY - touchMm, boxes[i]!.maxX + touchMm, boxes[i]!.maxY + touchMm)
      .map((k) => usable[k]!);

  const duplicateOf = findDuplicates(closed, usable, near, touchMm);
  for (const [index, of] of duplicateOf) problems.push(twiceProblem(closed, index, of));
  const single = usable.filter((i) => !duplicateOf.has(i));
  problems.push(...crossings(closed, single, touchMm));

  const areas = closed.map((c) => Math.abs(areaMm2(c)));
  for (const i of single) {
    // The smallest of all contours around this one is directly around it.
    for (const j of near(i)) {
      if (j === i || duplicateOf.has(j) || !(areas[j]! > areas[i]!)) continue;
      const parent = parents[i]!;
      if (parent !== null && areas[parent]! <= areas[j]!) continue;
      if (isAround(closed[j]!, closed[i]!, touchMm)) parents[i] = j;
    }
  }
  const duplicates = [...duplicateOf].map(([index, of]) => ({ index, of }));
  return { regions: buildRegions(single, parents), parents, duplicates, problems };
}

function buildRegions(single: readonly number[], parents: readonly (number | null)[]): Region[] {
  const children = new Map<number | null, number[]>();
  for (const i of single) {
    const list = children.get(parents[i]!);
    if (list === undefined) children.set(parents[i]!, [i]);
    else list.push(i);
  }
  const build = (parent: number | null, depth: number): Region[] =>
    (children.get(parent) ?? []).map((outer) => ({
      outer,
      depth,
      isOpening: depth % 2 === 1,
      holes: build(outer, depth + 1),
    }));
  return build(null, 0);
}

/** True when `outer` encloses `inner`, judged at a place of `inner` clear of `outer`. */
function isAround(outer: Contour, inner: Contour, touchMm: number): boolean {
  let fallback: Point | null = null;
  for (const s of inner.segments) {
    for (const part of [0.5, 0.25, 0.75]) {
      const p = pointAt(s, part);
      if (boundaryDistanceMm(outer, p) > touchMm) return containsPoint(outer, p);
      fallback ??= p;
    }
  }
  return fallback !== null && containsPoint(outer, fallback);
}

/** Contours with the same size whose every joint and middle lies on an earlier one. */
function findDuplicates(
  closed: readonly Contour[],
  usable: readonly number[],
  near: (i: number) => number[],
  touchMm: number,
): Map<number, number> {
  const out = new Map<number, number>();
  for (const i of usable) {
    for (const j of near(i)) {
      if (j >= i || out.has(j) || !sameBox(closed[i]!, closed[j]!, touchMm)) continue;
      if (liesOn(closed[i]!, closed[j]!, touchMm) && liesOn(closed[j]!, closed[i]!, touchMm)) {
        out.set(i, j);
        break;
      }
    }
  }
  return out;
}

function sameBox(a: Contour, b: Contour, within: number): boolean {
  const p = contourBox(a);
  const q = contourBox(b);
  return (
    Math.abs(p.minX - q.minX) <= within &&
    Math.abs(p.minY - q.minY) <= within &&
    Math.abs(p.maxX - q.maxX) <= within &&
    Math.abs(p.maxY - q.maxY) <= within
  );
}

function liesOn(a: Contour, b: Contour, within: number): boolean {
  return a.segments.every(
    (s) => boundaryDistanceMm(b, s.from) <= within && boundaryDistanceMm(b, pointAt(s, 0.5)) <= within,
  );
}

/** One problem for each pair of contours that meet anywhere. */
function crossings(closed: readonly Contour[], single: readonly number[], touchMm: number): Problem[] {
  const segments: Segment[] = [];
  const owners: number[] = [];
  for (const i of single) {
    for (const s of closed[i]!.segments) {
      segments.push(s);
      owners.push(i);
    }
  }
  if (segments.length === 0) return [];
  const tree = new Flatbush(segments.length);
  for (const s of segments) {
    const b = segmentBox(s);
    tree.add(b.minX, b.minY, b.maxX, b.maxY);
  }
  tree.finish();
  const seen = new Set<string>();
  const out: Problem[] = [];
  segments.forEach((s, k) => {
    const b = segmentBox(s);
    const others = tree.search(
      b.minX - touchMm,
      b.minY - touchMm,
      b.maxX + touchMm,
      b.maxY + touchMm,
      (other) => owners[other]! > owners[k]!,
    );
    for (const other of others) {
      const key = `${owners[k]}/${owners[other]}`;
      if (seen.has(key)) continue;
      const approach = closestApproach(s, segments[other]!);
      if (approach.distanceMm > touchMm) continue;
      seen.add(key);
      out.push(crossProblem(owners[k]!, owners[other]!, approach.onFirst));
    }
  });
  return out;
}

function crossProblem(a: number, b: number, at: Point): Problem {
  return problem({
    code: 'GEOMETRY-CONTOURS-CROSS',
    severity: 'stop',
    what: `Contours ${a + 1} and ${b + 1} cross or touch at (${at.x.toFixed(3)}, ${at.y.toFixed(3)})`,
    fix: 'Part them in the drawing, or leave one of them out',
    at: { xMm: at.x, yMm: at.y },
  });
}

function twiceProblem(closed: readonly Contour[], index: number, of: number): Problem {
  const p = closed[index]!.segments[0]!.from;
  return problem({
    code: 'GEOMETRY-CONTOUR-TWICE',
    severity: 'warn',
    what: `Contour ${index + 1} repeats contour ${of + 1} at (${p.x.toFixed(3)}, ${p.y.toFixed(3)}) and is left out`,
    fix: 'Delete one of them in the drawing',
    at: { xMm: p.x, yMm: p.y },
  });
}

function openProblem(c: Contour, index: number): Problem {
  const p = c.segments[0]?.from;
  return problem({
    code: 'GEOMETRY-CONTOUR-OPEN',
    severity: 'warn',
    what: `Contour ${index + 1} is not closed and can enclose nothing`,
    fix: 'Close it in the drawing if it should bound a region',
    ...(p !== undefined && { at: { xMm: p.x, yMm: p.y } }),
  });
}
