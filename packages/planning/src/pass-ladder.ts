import { apply, BY_DEFINITION, defineLaw, defineSource, type Figure } from '@gapwright/base';

/** What one energy level does with one wire, machine and burn height, as bare numbers for the search. */
export interface LevelNumbers {
  readonly gapMm: number;
  /** Stock a skim takes, mm; 0 for the rough level. */
  readonly stockMm: number;
  readonly raUm: number;
  readonly recastUm: number;
  readonly accuracyMm: number;
  readonly feedMmPerMin: number;
}

/** What a surface must meet. */
export interface SurfaceNeeds {
  readonly raUm: number;
  /** Share of the profile tolerance that the accuracy of the last pass may use, mm. */
  readonly accuracyMm: number;
  readonly recastUm: number;
}

/** A sequence of levels with the surface it leaves. `levels` are indexes into the level list, the first is the rough. */
export interface Ladder {
  readonly levels: readonly number[];
  /** Offset of the first pass: d/2 + gap + all stock, mm. */
  readonly firstOffsetMm: number;
  readonly raUm: number;
  readonly recastUm: number;
  readonly accuracyMm: number;
}

/** Peaks stand about this many times Ra above the valleys: default of 5.5 in a band of 4 to 7. */
const PEAK_RATIO = 5.5;
const UM_PER_MM = 1000;

const PEAKS = defineSource({
  id: 'planning-peaks',
  title: 'Ratio of peak height to Ra on spark-eroded surfaces, band 4 to 7',
  standing: 'common practice',
});

const LEFT_BEHIND = defineLaw({
  id: 'ladder-left-behind',
  says: 'A skim leaves its own value, or what the pass before left deeper than the stock it takes.',
  formula: 'max(own, before - taken)',
  source: BY_DEFINITION,
  inputs: {
    own: { unit: 'um', says: 'what the skim leaves by itself' },
    before: { unit: 'um', says: 'what the pass before left' },
    taken: { unit: 'mm', says: 'stock the skim takes' },
  },
  output: 'um',
  evaluate: ({ own, before, taken }) => Math.max(own, before - taken * UM_PER_MM),
});

const PEAKS_LEFT = defineLaw({
  id: 'ladder-ra-left',
  says: 'A skim leaves its own Ra, or the valleys of the pass before that lie deeper than the stock it takes.',
  formula: `max(own, before - 1000 taken / ${PEAK_RATIO})`,
  source: PEAKS,
  inputs: {
    own: { unit: 'um', says: 'Ra of the skim by itself' },
    before: { unit: 'um', says: 'Ra the pass before left' },
    taken: { unit: 'mm', says: 'stock the skim takes' },
  },
  output: 'um',
  evaluate: ({ own, before, taken }) => Math.max(own, before - (taken * UM_PER_MM) / PEAK_RATIO),
});

const FORM_LEFT = defineLaw({
  id: 'ladder-form-left',
  says: 'A skim leaves its own form error, or what the pass before left deeper than the stock it takes.',
  formula: 'max(own, before - taken)',
  source: BY_DEFINITION,
  inputs: {
    own: { unit: 'mm', says: 'accuracy of the skim by itself' },
    before: { unit: 'mm', says: 'accuracy the pass before left' },
    taken: { unit: 'mm', says: 'stock the skim takes' },
  },
  output: 'mm',
  evaluate: ({ own, before, taken }) => Math.max(own, before - taken),
});

export function raLeft(own: Figure, before: Figure, taken: Figure): Figure {
  return apply(PEAKS_LEFT, { own, before, taken });
}

export function recastLeft(own: Figure, before: Figure, taken: Figure): Figure {
  return apply(LEFT_BEHIND, { own, before, taken });
}

export function accuracyLeft(own: Figure, before: Figure, taken: Figure): Figure {
  return apply(FORM_LEFT, { own, before, taken });
}

/**
 * Every ladder that begins with the first level and goes on with any of the finer ones in order: with n levels 2^(n-1).
 * Levels are few (about five), so all are tried; leaving out a level is allowed, but a skim cannot reach deeper than
 * the stock it takes, so what it leaves is then worse.
 */
export function allLadders(levels: readonly LevelNumbers[], wireDiameterMm: number): Ladder[] {
  const first = levels[0];
  if (first === undefined) return [];
  const out: Ladder[] = [];
  const skims = levels.length - 1;
  for (let chosen = 0; chosen < 1 << skims; chosen++) {
    const indexes = [0];
    let { raUm, recastUm, accuracyMm } = first;
    let offset = wireDiameterMm / 2 + first.gapMm;
    for (let k = 0; k < skims; k++) {
      if ((chosen & (1 << k)) === 0) continue;
      const own = levels[k + 1]!;
      indexes.push(k + 1);
      raUm = PEAKS_LEFT.evaluate({ own: own.raUm, before: raUm, taken: own.stockMm });
      recastUm = LEFT_BEHIND.evaluate({ own: own.recastUm, before: recastUm, taken: own.stockMm });
      accuracyMm = FORM_LEFT.evaluate({ own: own.accuracyMm, before: accuracyMm, taken: own.stockMm });
      offset += own.stockMm;
    }
    out.push({ levels: indexes, firstOffsetMm: offset, raUm, recastUm, accuracyMm });
  }
  return out;
}

/** Which of the needs a ladder misses. */
export function missed(ladder: Ladder, needs: SurfaceNeeds): ('ra' | 'tolerance' | 'recast')[] {
  const out: ('ra' | 'tolerance' | 'recast')[] = [];
  if (ladder.raUm > needs.raUm) out.push('ra');
  if (ladder.accuracyMm > needs.accuracyMm) out.push('tolerance');
  if (ladder.recastUm > needs.recastUm) out.push('recast');
  return out;
}
