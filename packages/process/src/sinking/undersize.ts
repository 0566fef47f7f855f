import { apply, defineLaw, type Figure, type Problem, problem } from '@gapwright/base';
import { MINKOWSKI } from './sources.js';

const side = (says: string) => ({ unit: 'mm', says });

const UNDERSIZE = defineLaw({
  id: 'electrode-undersize',
  says: 'The electrode is smaller per side by the gap, the orbit and the allowance.',
  formula: 'gap + orbit + allowance',
  source: MINKOWSKI,
  inputs: {
    gap: side('gap per side'),
    orbit: side('orbit radius'),
    allowance: side('stock and craters left per side'),
  },
  output: 'mm',
  evaluate: ({ gap, orbit, allowance }) => gap + orbit + allowance,
});

const SIZE_POCKET = defineLaw({
  id: 'electrode-size-pocket',
  says: 'For a pocket the electrode is smaller than the cavity by twice the undersize.',
  formula: 'S − 2 u',
  source: MINKOWSKI,
  inputs: { S: side('size of the cavity'), u: side('undersize per side') },
  output: 'mm',
  evaluate: ({ S, u }) => S - 2 * u,
});

const SIZE_BOSS = defineLaw({
  id: 'electrode-size-boss',
  says: 'For a boss the opening in the electrode is larger by twice the undersize.',
  formula: 'S + 2 u',
  source: MINKOWSKI,
  inputs: { S: side('size of the boss'), u: side('undersize per side') },
  output: 'mm',
  evaluate: ({ S, u }) => S + 2 * u,
});

const ORBIT = defineLaw({
  id: 'orbit-radius',
  says: 'What is left of the undersize after gap and stock is orbited.',
  formula: 'u − gap − stock',
  source: MINKOWSKI,
  inputs: { u: side('undersize per side'), gap: side('gap per side'), stock: side('stock left for later stages') },
  output: 'mm',
  evaluate: ({ u, gap, stock }) => u - gap - stock,
});

const CORNER = defineLaw({
  id: 'cavity-corner-radius',
  says: 'A circular orbit rounds inside corners in plan by the orbit and the gap.',
  formula: 're + r + gap',
  source: MINKOWSKI,
  inputs: { re: side('corner radius of the electrode'), r: side('orbit radius'), gap: side('gap per side') },
  output: 'mm',
  evaluate: ({ re, r, gap }) => re + r + gap,
});

const SQUARE_CORNER = defineLaw({
  id: 'cavity-corner-radius-square-orbit',
  says: 'An orbit into the corners (square) leaves the corner of the electrode and the gap.',
  formula: 're + gap',
  source: MINKOWSKI,
  inputs: { re: side('corner radius of the electrode'), gap: side('gap per side') },
  output: 'mm',
  evaluate: ({ re, gap }) => re + gap,
});

/** Undersize per side, mm. */
export function undersizeOf(gapMm: Figure, orbitMm: Figure, allowanceMm: Figure): Figure {
  return apply(UNDERSIZE, { gap: gapMm, orbit: orbitMm, allowance: allowanceMm });
}

/** Size of the electrode for a pocket or boss of a given size, mm. */
export function electrodeSize(sizeMm: Figure, undersizeMm: Figure, shape: 'pocket' | 'boss' = 'pocket'): Figure {
  return apply(shape === 'pocket' ? SIZE_POCKET : SIZE_BOSS, { S: sizeMm, u: undersizeMm });
}

/** Orbit radius of a stage burned with an electrode of a given undersize, mm; negative when the electrode is too large. */
export function orbitRadius(undersizeMm: Figure, gapMm: Figure, stockMm: Figure): Figure {
  return apply(ORBIT, { u: undersizeMm, gap: gapMm, stock: stockMm });
}

/** Inside corner radius in plan that an electrode corner leaves, mm. */
export function cavityCornerRadius(
  electrodeRadiusMm: Figure,
  orbitMm: Figure,
  gapMm: Figure,
  orbit: 'circular' | 'square' = 'circular',
): Figure {
  return orbit === 'circular'
    ? apply(CORNER, { re: electrodeRadiusMm, r: orbitMm, gap: gapMm })
    : apply(SQUARE_CORNER, { re: electrodeRadiusMm, gap: gapMm });
}

/** One energy stage of a sinking, in burning order; all lengths per side. */
export interface SinkingStage {
  readonly name: string;
  /** Number of the electrode; stages with one number share one electrode. */
  readonly electrode: number;
  readonly undersizeMm: number;
  readonly gapMm: number;
  readonly orbitMm: number;
  /** Stock left on the nominal wall for later stages. */
  readonly stockMm: number;
}

/** Lengths agree within a nanometre, so that sums of decimals never trip a check. */
const LENGTH_MM = 1e-6;

/**
 * Checks a sequence of stages. Stops: `SINKING-GAP-OVER-UNDERSIZE` (the electrode would burn past nominal without any
 * orbit), `SINKING-PAST-NOMINAL` (gap, orbit and stock exceed the undersize), `SINKING-STOCK-GROWS` (a later stage leaves
 * more stock than an earlier one), `SINKING-ORBIT-SHRINKS` (the orbit of one electrode must grow as its gap shrinks).
 * Warns `SINKING-NOT-TO-SIZE` when the last stage stops short of nominal.
 */
export function checkStages(stages: readonly SinkingStage[]): readonly Problem[] {
  const problems: Problem[] = [];
  const say = (code: string, severity: 'stop' | 'warn', feature: string, what: string, fix: string): void => {
    problems.push(problem({ code, severity, what, fix, at: { feature } }));
  };
  const um = (mm: number): string => `${Number((mm * 1000).toPrecision(4))} µm`;
  stages.forEach((stage, k) => {
    const { name, undersizeMm, gapMm, orbitMm, stockMm } = stage;
    const reach = gapMm + orbitMm + stockMm;
    if (gapMm > undersizeMm + LENGTH_MM) {
      const what = `Stage "${name}" sparks over ${um(gapMm)}, more than the undersize of ${um(undersizeMm)}`;
      say('SINKING-GAP-OVER-UNDERSIZE', 'stop', name, what, 'Use a smaller electrode or a finer stage');
    } else if (reach > undersizeMm + LENGTH_MM) {
      const what = `Stage "${name}" needs ${um(reach)} per side for gap, orbit and stock and has ${um(undersizeMm)}`;
      say('SINKING-PAST-NOMINAL', 'stop', name, what, 'Orbit less or use a smaller electrode');
    }
    const before = stages[k - 1];
    if (before !== undefined && stockMm > before.stockMm + LENGTH_MM) {
      const what = `Stage "${name}" leaves ${um(stockMm)} of stock, more than the ${um(before.stockMm)} before it`;
      say('SINKING-STOCK-GROWS', 'stop', name, what, 'Order the stages from rough to fine');
    }
    if (before?.electrode === stage.electrode && orbitMm < before.orbitMm - LENGTH_MM) {
      const what = `Stage "${name}" orbits ${um(orbitMm)}, less than the ${um(before.orbitMm)} before it`;
      say(
        'SINKING-ORBIT-SHRINKS',
        'stop',
        name,
        what,
        'With one electrode the orbit must grow as gap and stock shrink',
      );
    }
  });
  const last = stages.at(-1);
  if (last !== undefined) {
    const short = last.undersizeMm - last.gapMm - last.orbitMm;
    if (short > LENGTH_MM) {
      const what = `After stage "${last.name}" the wall stands ${um(short)} short of nominal`;
      say('SINKING-NOT-TO-SIZE', 'warn', last.name, what, 'Orbit further or add a stage');
    }
  }
  return problems;
}
