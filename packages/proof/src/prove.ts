import { type Problem, problem } from '@gapwright/base';
import { distanceMm } from '@gapwright/geometry';
import type { Motion } from '@gapwright/program';
import { sweptAreaMm2 } from './eroded-area.js';
import { Part } from './part.js';
import { followPasses } from './passes.js';
import type { FeatureOutcome, ProofResult } from './result.js';
import { assignRuns } from './runs.js';
import type { ProofFeature, ProofSetup } from './setup.js';
import { checkSlugs } from './slugs.js';
import { cuttingMoves, radiusOf, Sweep } from './sweep.js';
import { checkClampsAndTravel, checkPlateEdges } from './table-checks.js';
import { checkThreadedRapids } from './threaded-rapids.js';
import { walk } from './walk.js';
import { largestRest, largestUndercuts } from './wall.js';
import { checkWireState } from './wire-state.js';

/** Samples are at least this close along a contour, mm, and eight of them fit on the shortest tab. */
const SAMPLE_SPACING_MM = 0.5;

/**
 * Runs the motions read from a program text as a controller would, erodes the stock with them and compares what is left
 * with the drawing. Knows nothing of the plan: only the motions, the facts of the set-up sheet and the drawn contours.
 * Findings of severity `stop` make the verdict `fail`.
 */
export function proveProgram(
  motions: readonly Motion[],
  setup: ProofSetup,
  features: readonly ProofFeature[],
): ProofResult {
  const findings: Problem[] = [];
  const part = new Part(features, setup);
  const path = walk(motions);
  findings.push(...path.findings);
  const cutting = cuttingMoves(path);
  const radius = radiusOf(setup);
  const sweep = new Sweep(cutting, radius);
  const assigned = assignRuns(path, cutting, part, setup, radius);
  findings.push(...assigned.findings);

  const undercuts = largestUndercuts(part, sweep);
  const tabs = setup.tabs.map((t) => distanceMm(t.from, t.to) / 8);
  const spacing = Math.min(SAMPLE_SPACING_MM, ...tabs);
  const reports = part.features.map((f) =>
    followPasses(
      f,
      assigned.runs.filter((r) => r.feature === f.index),
      setup,
      spacing,
    ),
  );
  const outcomes = part.features.map((f, i): FeatureOutcome => {
    if (f.allowed === null) {
      findings.push(
        problem({
          code: 'PROOF-CORNERS-TOO-CLOSE',
          severity: 'warn',
          what: `${f.feature.id}: inside corners lie too close to be rounded by the agreed radius one by one; rest is measured against the drawing`,
          at: { feature: f.feature.id },
        }),
      );
    }
    const rest = largestRest((f.allowed ?? f.contour).segments, sweep);
    const undercut = undercuts[i]!;
    const report = reports[i]!;
    findings.push(...report.findings);
    return {
      id: f.feature.id,
      undercutMm: undercut.valueMm,
      undercutAt: undercut.at,
      restMm: rest.valueMm,
      restAt: rest.at,
      passes: report.passes,
      errorBand: report.errorBand,
    };
  });
  for (const o of outcomes) findings.push(...judgeWall(o, setup.toleranceMm));
  const slugs = checkSlugs(part, reports, assigned.runs, setup, path);
  findings.push(...slugs.findings);
  findings.push(
    ...checkWireState(path, setup),
    ...checkClampsAndTravel(path, setup, sweep),
    ...checkPlateEdges(assigned.runs, part, setup),
    ...checkThreadedRapids(path, sweep, part, slugs.slugs, setup),
  );
  const inOrder = findings
    .map((f, i) => ({ f, i, line: f.at?.line ?? Number.POSITIVE_INFINITY }))
    .sort((a, b) => (a.line === b.line ? a.i - b.i : a.line - b.line))
    .map(({ f }) => f);
  return {
    verdict: inOrder.some((f) => f.severity === 'stop') ? 'fail' : 'pass',
    maxUndercutMm: outcomes.reduce((m, o) => Math.max(m, o.undercutMm), 0),
    maxRestMm: outcomes.reduce((m, o) => Math.max(m, o.restMm), 0),
    features: outcomes,
    findings: inOrder,
    slugs: slugs.slugs,
    erodedAreaMm2: sweptAreaMm2(sweep.segments, sweep.radii),
    timeLine: path.timeLine,
  };
}

function judgeWall(o: FeatureOutcome, toleranceMm: number): Problem[] {
  const out: Problem[] = [];
  const um = (mm: number): string => `${(mm * 1000).toFixed(1)} µm`;
  const where = (p: { x: number; y: number }): string => `(${p.x.toFixed(3)}, ${p.y.toFixed(3)})`;
  if (o.undercutMm > toleranceMm && o.undercutAt !== null) {
    out.push(
      problem({
        code: 'PROOF-UNDERCUT',
        severity: 'stop',
        what: `${o.id}: ${um(o.undercutMm)} too much is cut away at ${where(o.undercutAt)}, allowed are ${um(toleranceMm)}`,
        fix: 'Check side, offset and path there',
        at: { feature: o.id, xMm: o.undercutAt.x, yMm: o.undercutAt.y },
      }),
    );
  }
  if (o.restMm > toleranceMm && o.restAt !== null) {
    out.push(
      problem({
        code: 'PROOF-REST',
        severity: 'stop',
        what: `${o.id}: ${o.restMm >= 1 ? '1 mm or more' : um(o.restMm)} of material stays at ${where(o.restAt)}, allowed are ${um(toleranceMm)}`,
        fix: 'Check offset, path and corner radius there',
        at: { feature: o.id, xMm: o.restAt.x, yMm: o.restAt.y },
      }),
    );
  }
  return out;
}
