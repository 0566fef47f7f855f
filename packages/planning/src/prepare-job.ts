import type { Material, ShopBook } from '@gapwright/process';
import type { FoundFeatures } from './features.js';
import type { Job, StackRuns } from './job.js';
import type { WireOverrides, WireRequest } from './plan.js';
import { burnHeight } from './set-up.js';
import { boxOfAll, buildShapes, type DrawnShape } from './shapes.js';
import { planSlug, type SlugPlan } from './slugs.js';

/** Works out what does not depend on wire, machine or stack. `found` must hold at least one feature to cut. */
export function prepareJob(
  found: FoundFeatures,
  request: WireRequest,
  material: Material,
  book: ShopBook,
  partsPerPlate: number,
  shapes: readonly DrawnShape[] = buildShapes(found.cut, found.lines, request.agreedCornerRadiusMm ?? 0),
): Job {
  return {
    request,
    book,
    material,
    shapes,
    drawing: boxOfAll(found.lines),
    blank: found.blank,
    partsPerPlate,
    plates: Math.ceil(request.quantity / partsPerPlate),
    overrides: NOTHING,
    mustMeetNeeds: true,
    settled: null,
    slugsOf: slugsByStack(shapes, request, material, book, NOTHING),
  };
}

const NOTHING: WireOverrides = {};

/** The same job with decisions of the planner; `settled`: the stacks stay as they were computed. */
export function overruledJob(
  job: Job,
  overrides: WireOverrides,
  settled: readonly StackRuns[] | null,
  mustMeetNeeds: boolean,
): Job {
  const slugsOf = slugsByStack(job.shapes, job.request, job.material, job.book, overrides);
  return { ...job, overrides, settled, mustMeetNeeds, slugsOf };
}

/** Plans the pieces of all shapes for a stack, each stack once. */
function slugsByStack(
  shapes: readonly DrawnShape[],
  request: WireRequest,
  material: Material,
  book: ShopBook,
  { slugHandling, tabMm }: WireOverrides,
): Job['slugsOf'] {
  const known = new Map<number, (SlugPlan | null)[]>();
  return (stack) => {
    let slugs = known.get(stack);
    if (slugs === undefined) {
      const height = burnHeight(request, stack);
      slugs = shapes.map(({ drawn }) => {
        const { id } = drawn.feature;
        const stated = { handling: slugHandling?.[id], tabMm: tabMm?.[id] };
        return planSlug(drawn, height, material.densityGPerCm3, book.rules, stated);
      });
      known.set(stack, slugs);
    }
    return slugs;
  };
}
