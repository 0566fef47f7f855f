import type { Shape } from './shape.js';

/** Work that is done together: all first passes, then one visit for the tabs, then the skims (for outlines the visit is last). */
export interface WorkBlock<T> {
  readonly role: 'outline' | 'opening' | 'open';
  /** In the order the planner stated. */
  readonly listed: readonly T[];
  /** The rest follows on a short tour. */
  readonly rest: readonly T[];
}

/** Parts nested in slugs come first: an outline at depth 2 lies in the slug of an opening at depth 1. */
function groupOf(shape: Shape): number {
  return Math.floor(shape.depth / 2);
}

const ROLES = ['opening', 'open', 'outline'] as const;

/**
 * Divides the work into blocks. Computed: group by group from the innermost, in a group first openings, then open cuts,
 * then outlines. A stated order comes first: neighbours in it of one group and role are one block, and what is not listed
 * follows in the computed order, in the last stated block where it is of the same kind.
 */
export function workBlocks<T>(
  items: readonly T[],
  shapeOf: (item: T) => Shape,
  order: readonly string[] = [],
): WorkBlock<T>[] {
  const blocks: { key: string; role: WorkBlock<T>['role']; listed: T[]; rest: T[] }[] = [];
  const blockFor = (role: WorkBlock<T>['role'], group: number) => {
    const key = `${role} ${group}`;
    const last = blocks.at(-1);
    if (last?.key === key) return last;
    const next = { key, role, listed: [], rest: [] };
    blocks.push(next);
    return next;
  };
  const listed = new Set(order);
  const byId = new Map(order.length === 0 ? [] : items.map((item) => [shapeOf(item).feature.id, item]));
  for (const id of listed) {
    const item = byId.get(id);
    if (item === undefined) continue;
    const shape = shapeOf(item);
    blockFor(shape.feature.role, groupOf(shape)).listed.push(item);
  }
  const left = items.filter((item) => !listed.has(shapeOf(item).feature.id));
  const groups = [...new Set(left.map((item) => groupOf(shapeOf(item))))].sort((a, b) => b - a);
  for (const group of groups) {
    const inGroup = left.filter((item) => groupOf(shapeOf(item)) === group);
    for (const role of ROLES) {
      const ofRole = inGroup.filter((item) => shapeOf(item).feature.role === role);
      if (ofRole.length > 0) blockFor(role, group).rest.push(...ofRole);
    }
  }
  return blocks;
}
