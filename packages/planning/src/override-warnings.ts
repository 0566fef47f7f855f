import { type Problem, problem } from '@gapwright/base';
import { type Batch, surfaceNeeds } from './candidates.js';
import type { Job } from './job.js';
import { type ShapeLayout, tabMmOf } from './layout.js';
import { missed } from './pass-ladder.js';
import { massText } from './steps.js';

/** What of a tab must be left between the kerfs at its ends, mm: less breaks before somebody holds the piece. */
const LEAST_TAB_LEFT_MM = 0.1;

/** What the stated passes miss of what is asked, and by how much; `where` tells heights of stack apart. */
export function missedNeeds(job: Job, { ladder }: Batch, where: string): Problem[] {
  const { request, book } = job;
  const needs = surfaceNeeds(job);
  const levels = ladder.levels.map((k) => book.wireLevels[k]!.level).join(', ');
  const warn = (code: string, what: string, fix: string): Problem =>
    problem({ code, severity: 'warn', what, fix, at: { field: 'overrides.passLevels' } });
  return missed(ladder, needs).map((need): Problem => {
    if (need === 'ra') {
      const what = `Passes ${levels} leave about Ra ${ladder.raUm.toFixed(2)} µm${where}; Ra ${request.raUm} µm is asked (${(ladder.raUm - needs.raUm).toFixed(2)} µm too rough)`;
      return warn('PLAN-PASSES-RA', what, 'Add a finer pass, or agree on the rougher surface');
    }
    if (need === 'tolerance') {
      const reach = ladder.accuracyMm / book.rules.toleranceShare.value;
      const what = `Passes ${levels} hold about ±${reach.toFixed(4)} mm${where}; ±${request.toleranceMm} mm is asked (${(reach - request.toleranceMm).toFixed(4)} mm too coarse)`;
      return warn('PLAN-PASSES-TOLERANCE', what, 'Add a finer pass, or agree on the wider tolerance');
    }
    const what = `Passes ${levels} leave about ${ladder.recastUm.toFixed(1)} µm of recast${where}; ${request.recastMaxUm} µm is allowed (${(ladder.recastUm - needs.recastUm).toFixed(1)} µm too deep)`;
    return warn('PLAN-PASSES-RECAST', what, 'Add a finer pass, or take the recast off after burning');
  });
}

/** What must be known of pieces whose handling or tab was overruled, and of an order that parts the plate early. */
export function overruledPieces(job: Job, batch: Batch): Problem[] {
  const out: Problem[] = [];
  for (const layout of batch.setUp.layouts) {
    const falls = fallingPiece(job, batch, layout);
    if (falls !== null) out.push(falls);
    const unsupported = unsupportedPiece(layout);
    if (unsupported !== null) out.push(unsupported);
    const tab = statedTab(batch, layout);
    if (tab !== null) out.push(tab);
  }
  out.push(...partedEarly(job, batch));
  return out;
}

/** A piece that falls although it is heavier than the shop lets fall, or is a part. */
function fallingPiece(job: Job, { ladder, stack }: Batch, { slug, shape }: ShapeLayout): Problem | null {
  if (slug === null || slug.handling !== 'falls free' || slug.byRule === 'falls free') return null;
  const { id } = shape.feature;
  const heightMm = job.request.heightMm * stack;
  const mass = massText(slug.massG.value);
  const at = { feature: id, field: `overrides.slugHandling.${id}` };
  if (slug.piece === 'part' && ladder.levels.length > 1) {
    const what = `The part ${id} (${mass}) is to fall free, but its skims come after the pass that frees it`;
    const fix = 'Leave a tab, or plan it with the rough pass alone';
    return problem({ code: 'PLAN-PART-FALLS', severity: 'stop', what, fix, at });
  }
  const limit = massText(job.book.rules.freeFallMassG.value);
  const rule = slug.massG.value > job.book.rules.freeFallMassG.value ? `; the shop lets ${limit} fall` : '';
  const what = `The ${slug.piece} of ${id} (${mass}) falls free with nobody there, by the planner's decision${rule}. It drops the ${heightMm} mm of the work before it is clear, onto whatever is below, and may tilt and jam the wire`;
  const fix = 'See that a catcher takes it and nothing below is struck, or leave a tab';
  return problem({ code: 'PLAN-SLUG-FALLS', severity: 'warn', what, fix, at });
}

function unsupportedPiece({ slug, shape }: ShapeLayout): Problem | null {
  if (slug === null || slug.handling !== 'tab' || slug.byRule !== 'tab and support') return null;
  const { id } = shape.feature;
  const what = `The ${slug.piece} of ${id} weighs ${massText(slug.massG.value)} and is planned without support, by the planner's decision`;
  const fix = 'See that it can be held while its tab is cut, or have it supported';
  const at = { feature: id, field: `overrides.slugHandling.${id}` };
  return problem({ code: 'PLAN-SLUG-UNSUPPORTED', severity: 'warn', what, fix, at });
}

/** A stated tab that is shorter than the rules ask, or that the kerf burns away. */
function statedTab({ ladder }: Batch, layout: ShapeLayout): Problem | null {
  const { slug, shape } = layout;
  if (slug === null || slug.computedTabMm === null) return null;
  const { id } = shape.feature;
  const at = { feature: id, field: `overrides.tabMm.${id}` };
  const tabMm = tabMmOf(layout);
  const leastMm = 2 * ladder.firstOffsetMm + LEAST_TAB_LEFT_MM;
  if (tabMm < leastMm && tabMm < slug.computedTabMm) {
    const what = `The tab of ${tabMm.toFixed(2)} mm stated for ${id} is burned away by the kerfs at its ends: they take ${(2 * ladder.firstOffsetMm).toFixed(2)} mm`;
    const fix = `State at least ${(Math.ceil(leastMm * 100) / 100).toFixed(2)} mm; ${slug.computedTabMm.toFixed(2)} mm is computed`;
    return problem({ code: 'PLAN-TAB', severity: 'stop', what, fix, at });
  }
  if (tabMm >= slug.computedTabMm) return null;
  const what = `The tab of ${tabMm.toFixed(2)} mm stated for ${id} (${massText(slug.massG.value)}) is ${(slug.computedTabMm - tabMm).toFixed(2)} mm shorter than the rules ask`;
  const fix = `State ${slug.computedTabMm.toFixed(2)} mm, or support the piece`;
  return problem({ code: 'PLAN-TAB-SHORT', severity: 'warn', what, fix, at });
}

/** A stated order in which an open cut parts the plate while other features are still to be cut in it. */
function partedEarly(job: Job, { setUp }: Batch): Problem[] {
  const { order = [] } = job.overrides;
  const parting = setUp.layouts.filter((l) => l.cutsApart && order.includes(l.shape.feature.id));
  return parting.flatMap(({ shape }) => {
    const { id } = shape.feature;
    const after = setUp.layouts.filter((l) => {
      const place = order.indexOf(l.shape.feature.id);
      return l.shape.feature.role === 'opening' && (place < 0 || place > order.indexOf(id));
    });
    if (after.length === 0) return [];
    const what = `The stated order parts the plate along ${id} before ${after.length} opening${after.length === 1 ? ' is' : 's are'} cut`;
    const fix = 'See that both pieces stay clamped, or name the openings first';
    return [
      problem({
        code: 'PLAN-ORDER-PARTS-PLATE',
        severity: 'warn',
        what,
        fix,
        at: { feature: id, field: 'overrides.order' },
      }),
    ];
  });
}
