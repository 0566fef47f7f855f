import {
  apply,
  BY_DEFINITION,
  defineLaw,
  defineSource,
  type Figure,
  FROM_DRAWING,
  given,
  type Problem,
  problem,
  STATED_FOR_JOB,
} from '@gapwright/base';
import { type ShopRules, slugHandling, slugMass, tabLength } from '@gapwright/process';
import type { SlugHandling } from './plan.js';
import type { Shape } from './shape.js';

/** What becomes of the piece a closed cut frees. */
export interface SlugPlan {
  readonly piece: 'slug' | 'part';
  readonly massG: Figure;
  readonly handling: SlugHandling;
  /** The handling by the shop's rules. */
  readonly byRule: SlugHandling;
  /** Null when the piece falls free. */
  readonly tab: Figure | null;
  /** The same as a bare number; 0 when there is no tab. */
  readonly tabMm: number;
  /** What the shop's rule asks of a tab for this mass, mm; 0 when there is no tab or its length is stated. */
  readonly ruleMm: number;
  /** Length the tab would have been given, where another one is stated, mm; else null. */
  readonly computedTabMm: number | null;
}

/** What the planner states about a piece. */
export interface StatedSlug {
  readonly handling: SlugHandling | undefined;
  /** A stated tab is kept even by a piece that would fall free. */
  readonly tabMm: number | undefined;
}

/** A stated length this near to the computed one is the computed one, mm: rounding of numbers in files. */
const SAME_TAB_MM = 1e-9;

const TAB_STRESS = defineSource({
  id: 'planning-tab-stress',
  title:
    'Bending stress a tab may carry so that the slug does not sag into the wire; a starting value without a source',
  standing: 'common practice',
});

/** Bending stress a tab may carry, N/mm². Far below any metal's strength: what counts is that nothing moves. */
const TAB_STRESS_N_PER_MM2 = given(10, 'N/mm2', 'Bending stress a tab may carry', TAB_STRESS);
const GRAVITY_M_PER_S2 = 9.81;

const TAB_FOR_BENDING = defineLaw({
  id: 'tab-for-bending',
  says: 'The tab bends like a short beam as high as the work: its length along the contour must carry the weight at its arm.',
  formula: '6 m g r / (s H²)',
  source: TAB_STRESS,
  inputs: {
    m: { unit: 'g', says: 'mass held' },
    r: { unit: 'mm', says: 'arm from the tab to the middle of the piece' },
    H: { unit: 'mm', says: 'burned height' },
    s: { unit: 'N/mm2', says: 'bending stress allowed' },
  },
  output: 'mm',
  evaluate: ({ m, r, H, s }) => (6 * (m / 1000) * GRAVITY_M_PER_S2 * r) / (s * H * H),
});

const LONGER_TAB = defineLaw({
  id: 'tab-longer-of-two',
  says: "The tab is as long as the shop's rule or bending asks, and at most a quarter of the contour.",
  formula: 'min(max(rule, bending), L / 4)',
  source: BY_DEFINITION,
  inputs: {
    rule: { unit: 'mm', says: "tab by the shop's rule" },
    bending: { unit: 'mm', says: 'tab by bending' },
    L: { unit: 'mm', says: 'length of the contour' },
  },
  output: 'mm',
  // The tab is a decision: the program holds this very length.
  decides: true,
  evaluate: ({ rule, bending, L }) => Math.min(Math.max(rule, bending), L / 4),
});

/**
 * Mass, handling and tab of the piece that a closed contour frees; null for open cuts. A part always keeps a tab, so
 * that it never drops; a slug keeps one when it is heavier than the shop lets fall; what is stated goes before these
 * rules. `heightMm` is the burned height.
 */
export function planSlug(
  shape: Shape,
  heightMm: Figure,
  densityGPerCm3: Figure,
  rules: ShopRules,
  stated?: StatedSlug,
): SlugPlan | null {
  const { feature, pieceAreaMm2, armMm } = shape;
  if (feature.role === 'open') return null;
  const piece = feature.role === 'outline' ? 'part' : 'slug';
  const area = given(pieceAreaMm2, 'mm2', `Area of the ${piece} of ${feature.id}`, FROM_DRAWING);
  const massG = slugMass(area, heightMm, densityGPerCm3);
  const byMass = slugHandling(massG, rules);
  const byRule = byMass === 'falls free' && piece === 'part' ? 'tab' : byMass;
  const ifTab = byRule === 'falls free' ? 'tab' : byRule;
  const handling = stated?.handling ?? (stated?.tabMm === undefined ? byRule : ifTab);
  const common = { piece, massG, handling, byRule } as const;
  if (handling === 'falls free') return { ...common, tab: null, tabMm: 0, ruleMm: 0, computedTabMm: null };
  const arm = given(armMm, 'mm', `Half the diagonal of ${feature.id}`, FROM_DRAWING);
  const bending = apply(TAB_FOR_BENDING, { m: massG, r: arm, H: heightMm, s: TAB_STRESS_N_PER_MM2 });
  const length = given(feature.lengthMm, 'mm', `Length of ${feature.id}`, FROM_DRAWING);
  const rule = tabLength(massG, rules);
  const tab = apply(LONGER_TAB, { rule, bending, L: length });
  if (stated?.tabMm !== undefined && Math.abs(stated.tabMm - tab.value) > SAME_TAB_MM) {
    const own = given(stated.tabMm, 'mm', `Tab of ${feature.id} stated by the planner`, STATED_FOR_JOB);
    return { ...common, tab: own, tabMm: own.value, ruleMm: 0, computedTabMm: tab.value };
  }
  return { ...common, tab, tabMm: tab.value, ruleMm: rule.value, computedTabMm: null };
}

/** Parts so small that not even a quarter of their contour holds the tab the shop's rule asks. `slugs` by shape. */
export function tooSmallForTab(shapes: readonly Shape[], slugs: readonly (SlugPlan | null)[]): Problem[] {
  return shapes.flatMap(({ feature, box }, i) => {
    const slug = slugs[i];
    if (slug == null || slug.piece !== 'part' || slug.ruleMm <= slug.tabMm) return [];
    const size = `${(box.maxX - box.minX).toFixed(2)} x ${(box.maxY - box.minY).toFixed(2)} mm`;
    const what = `${feature.id} at (${box.minX.toFixed(2)}, ${box.minY.toFixed(2)}) is a part of ${size} with a contour of ${feature.lengthMm.toFixed(2)} mm: too small for a tab of ${slug.ruleMm.toFixed(2)} mm, and without one it is lost in the flow`;
    const fix = 'Draw it joined to a strip or a larger part and part it later, or state a shorter tab in the shop book';
    const at = { xMm: box.minX, yMm: box.minY, feature: feature.id };
    return [problem({ code: 'WIRE-PART-TOO-SMALL', severity: 'stop', what, fix, at })];
  });
}
