import { type Problem, problem } from '@gapwright/base';
import { connectedRuns, withoutDuplicates } from './chain-clean.js';
import { Ends } from './chain-ends.js';
import { joinExactly } from './chain-joint.js';
import {
  CHAIN_OPTIONS,
  type Chained,
  type ChainOptions,
  type LoosePiece,
  type Repair,
  type Run,
  type TaggedContour,
} from './chain-types.js';
import { distanceMm, type Point } from './point.js';
import { reverseSegment, type Segment } from './segment.js';

/**
 * Chains loose drawing entities into contours. Every change to what was drawn is listed in `repairs`; ends within
 * `mergeMm` are joined silently, ends within `joinMm` with an entry, wider gaps stay open. Joints of the result are exact.
 * Where three or more ends meet a problem names the place; loops and stubs there are still told apart.
 */
export function chainSegments<Tag>(
  pieces: readonly LoosePiece<Tag>[],
  options: ChainOptions = CHAIN_OPTIONS,
): Chained<Tag> {
  const { mergeMm, joinMm } = options;
  const repairs: Repair<Tag>[] = [];
  const runs = withoutDuplicates(connectedRuns(pieces, mergeMm, repairs), mergeMm, repairs);
  const ends = new Ends(runs, mergeMm);
  for (const gap of ends.closeGaps(joinMm)) {
    repairs.push({
      kind: 'gap closed',
      at: gap.at,
      sizeMm: gap.sizeMm,
      tags: [endTag(runs, gap.first), endTag(runs, gap.second)],
    });
  }
  const problems = ends.resolveBranches().map(branchProblem);
  return { contours: assemble(runs, ends, mergeMm), repairs, problems };
}

function endTag<Tag>(runs: readonly Run<Tag>[], end: number): Tag {
  const { tags } = runs[end >> 1]!;
  return end % 2 === 0 ? tags[0]! : tags[tags.length - 1]!;
}

function branchProblem(branch: { at: Point; count: number; isResolved: boolean }): Problem {
  return problem({
    code: 'GEOMETRY-BRANCH',
    severity: 'warn',
    what: `${branch.count} ends meet at (${branch.at.x.toFixed(3)}, ${branch.at.y.toFixed(3)})`,
    fix: branch.isResolved
      ? 'The contour was followed past a stub or split into loops there; check it, or delete what does not belong'
      : 'Nothing tells which way the contour goes on; delete what does not belong',
    at: { xMm: branch.at.x, yMm: branch.at.y },
  });
}

function assemble<Tag>(runs: readonly Run<Tag>[], ends: Ends, mergeMm: number): TaggedContour<Tag>[] {
  const isUsed = new Uint8Array(runs.length);
  const contours: TaggedContour<Tag>[] = [];
  for (let i = 0; i < runs.length; i++) {
    if (isUsed[i] === 1) continue;
    // Back to the start of the chain, or once around when it is closed.
    let start = 2 * i;
    for (;;) {
      const before = ends.mate(start);
      if (before < 0) break;
      start = before ^ 1;
      if (start === 2 * i) break;
    }
    const segments: Segment[] = [];
    const tags: Tag[] = [];
    let entry = start;
    for (;;) {
      const run = runs[entry >> 1]!;
      isUsed[entry >> 1] = 1;
      if (entry % 2 === 0) {
        // One by one: a polyline may hold more pieces than a call takes arguments.
        for (const s of run.segments) segments.push(s);
        for (const tag of run.tags) tags.push(tag);
      } else {
        for (let k = run.segments.length - 1; k >= 0; k--) {
          segments.push(reverseSegment(run.segments[k]!));
          tags.push(run.tags[k]!);
        }
      }
      const next = ends.mate(entry ^ 1);
      if (next < 0 || next === start) break;
      entry = next;
    }
    const isClosed = ends.mate(entry ^ 1) === start;
    contours.push({ segments: exactJoints(segments, isClosed, mergeMm), tags, isClosed });
  }
  return contours;
}

function exactJoints(segments: Segment[], isClosed: boolean, mergeMm: number): Segment[] {
  const n = segments.length;
  for (let i = 0; i < (isClosed ? n : n - 1); i++) {
    const k = (i + 1) % n;
    if (i === k) break;
    [segments[i], segments[k]] = joinExactly(segments[i]!, segments[k]!, mergeMm);
  }
  return segments;
}

/** True when every segment starts exactly where the one before ends. */
export function isConnected(c: { readonly segments: readonly Segment[]; readonly isClosed: boolean }): boolean {
  const n = c.segments.length;
  for (let i = c.isClosed ? 0 : 1; i < n; i++) {
    if (distanceMm(c.segments[(i + n - 1) % n]!.to, c.segments[i]!.from) !== 0) return false;
  }
  return true;
}
