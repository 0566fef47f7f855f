import { extentOf } from './extent.js';
import { answersQuery, type TechnologyQuery } from './interpolate.js';
import { TECHNOLOGY_QUANTITY_NAMES } from './quantities.js';
import type { TechnologyPoint } from './technology-point.js';

/**
 * The points that answer the query, nearest first: distance on log axes, each measured by the half range of the points, over
 * the conditions that the query and all these points state. Equal distances are ordered by id. The order is the one
 * `interpolateTechnology` uses; it is also there where that refuses.
 */
export function nearestTechnologyPoints(
  points: readonly TechnologyPoint[],
  query: TechnologyQuery,
  most: number,
): readonly TechnologyPoint[] {
  const usable = points.filter((p) => answersQuery(p, query));
  const distances = new Map(usable.map((p) => [p, 0]));
  for (const name of TECHNOLOGY_QUANTITY_NAMES) {
    const asked = query.conditions[name];
    if (asked === undefined || usable.some((p) => p.conditions[name] === undefined)) continue;
    const logs = new Map(usable.map((p) => [p, Math.log(p.conditions[name]!)]));
    const [low, high] = extentOf(logs.values());
    if (low === high) continue;
    for (const [p, log] of logs)
      distances.set(p, distances.get(p)! + ((log - Math.log(asked)) / ((high - low) / 2)) ** 2);
  }
  return usable.sort((a, b) => distances.get(a)! - distances.get(b)! || (a.id < b.id ? -1 : 1)).slice(0, most);
}
