import type { Material, ShopBook } from '@gapwright/process';
import type { FoundFeatures } from './features.js';
import type { Job } from './job.js';
import type { WireRequest } from './plan.js';
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
): Job {
  const shapes = buildShapes(found.cut, found.lines, request.agreedCornerRadiusMm ?? 0);
  return {
    request,
    book,
    material,
    shapes,
    drawing: boxOfAll(found.lines),
    blank: found.blank,
    partsPerPlate,
    plates: Math.ceil(request.quantity / partsPerPlate),
    slugsOf: slugsByStack(shapes, request, material, book),
  };
}

/** Plans the pieces of all shapes for a stack, each stack once. */
function slugsByStack(
  shapes: readonly DrawnShape[],
  request: WireRequest,
  material: Material,
  book: ShopBook,
): Job['slugsOf'] {
  const known = new Map<number, (SlugPlan | null)[]>();
  return (stack) => {
    let slugs = known.get(stack);
    if (slugs === undefined) {
      const height = burnHeight(request, stack);
      slugs = shapes.map((s) => planSlug(s.drawn, height, material.densityGPerCm3, book.rules));
      known.set(stack, slugs);
    }
    return slugs;
  };
}
