import { type Problem, problem } from '@gapwright/base';
import { lengthMm } from '@gapwright/geometry';
import type { Part, PartFeature } from './part.js';
import type { PassReport } from './passes.js';
import type { FreedSlug } from './result.js';
import type { AssignedRun } from './runs.js';
import type { ProofSetup } from './setup.js';
import type { Walk } from './walk.js';
import { positionAlong } from './wall.js';

interface Freed extends FreedSlug {
  readonly featureIndex: number;
  readonly motion: number;
}

/** Finds the pieces that come free, whether somebody was asked to be there, and what is cut on a part after it came free. */
export function checkSlugs(
  part: Part,
  reports: readonly PassReport[],
  runs: readonly AssignedRun[],
  setup: ProofSetup,
  walk: Walk,
): { readonly slugs: FreedSlug[]; readonly findings: Problem[] } {
  const findings: Problem[] = [];
  const freed: Freed[] = [];
  const ordered = [...runs].sort((a, b) => a.firstMotion - b.firstMotion);
  for (const f of part.features) {
    if (f.feature.kind === 'open') continue;
    const report = reports[f.index]!;
    const tabs = setup.tabs.filter((t) => t.feature === f.feature.id);
    for (const tab of tabs) checkTab(f, tab, report, ordered, walk, findings);
    const last = lastCut(report);
    if (last === null) continue;
    const stop = stopBefore(last.run, ordered, walk);
    const mayFall = tabs.length === 0 && (setup.mayFallUnattended ?? []).includes(f.feature.id);
    const planned = stop === 'stop' || mayFall;
    freed.push({ feature: f.feature.id, freedAtLine: last.line, planned, featureIndex: f.index, motion: last.motion });
    if (!planned && tabs.length === 0) {
      findings.push(
        problem({
          code: 'PROOF-SLUG-NOT-HELD',
          severity: 'stop',
          what: `Line ${last.line}: ${pieceName(f)} of ${f.feature.id} comes free, ${stopWords(stop)}`,
          fix: 'Leave a tab and put a stop (M00) directly before it is cut',
          at: { line: last.line, feature: f.feature.id },
        }),
      );
    }
  }
  for (const piece of freed) {
    const f = part.features[piece.featureIndex]!;
    if (f.feature.kind !== 'outline') continue;
    for (const r of ordered) {
      if (r.lastMotion <= piece.motion || part.features[r.feature]?.outline !== f.index) continue;
      const id = part.features[r.feature]!.feature.id;
      findings.push(
        problem({
          code: 'PROOF-CUT-AFTER-FREE',
          severity: 'stop',
          what: `Line ${r.line}: ${id} is cut after its part ${f.feature.id} came free at line ${piece.freedAtLine}`,
          fix: `Cut ${id} before the outline`,
          at: { line: r.line, feature: id },
        }),
      );
      break;
    }
  }
  freed.sort((a, b) => a.motion - b.motion);
  return { slugs: freed.map(({ feature, freedAtLine, planned }) => ({ feature, freedAtLine, planned })), findings };
}

function pieceName(f: PartFeature): string {
  return f.feature.kind === 'outline' ? 'the part' : 'the slug';
}

/** The cut that went through last, when every reachable place of the contour is cut through. */
function lastCut(report: PassReport): { run: number; motion: number; line: number } | null {
  let last: { run: number; motion: number; line: number } | null = null;
  for (let i = 0; i < report.samples.length; i++) {
    if (!report.samples[i]!.reachable) continue;
    const cut = report.firstCut[i]!;
    if (cut.run < 0) return null;
    if (last === null || cut.motion > last.motion) last = cut;
  }
  return last;
}

type StopKind = 'stop' | 'optional-stop' | 'none';

/** Whether a stop stands between the cutting before a run and the run. */
function stopBefore(runId: number, ordered: readonly AssignedRun[], walk: Walk): StopKind {
  const k = ordered.findIndex((r) => r.run.id === runId);
  const from = k > 0 ? ordered[k - 1]!.lastMotion : -1;
  const to = ordered[k]?.firstMotion ?? -1;
  const between = walk.events.filter((e) => e.motion > from && e.motion < to);
  if (between.some((e) => e.kind === 'stop')) return 'stop';
  return between.some((e) => e.kind === 'optional-stop') ? 'optional-stop' : 'none';
}

function stopWords(stop: StopKind): string {
  return stop === 'optional-stop' ? 'only an optional stop stands before it' : 'no stop stands before it';
}

/** A declared tab must stay whole until a cut that follows a stop. */
function checkTab(
  f: PartFeature,
  tab: ProofSetup['tabs'][number],
  report: PassReport,
  ordered: readonly AssignedRun[],
  walk: Walk,
  findings: Problem[],
): void {
  const total = lengthMm(f.contour);
  const a = positionAlong(f, tab.from);
  const b = positionAlong(f, tab.to);
  // The tab is the shorter way between its ends.
  const forward = (b - a + total) % total;
  const start = forward <= total / 2 ? a : b;
  const width = Math.min(forward, total - forward);
  for (let i = 0; i < report.samples.length; i++) {
    const s = report.samples[i]!;
    const within = (s.positionMm - start + total) % total;
    // The kerf's round end reaches into the tab; its middle half is what holds.
    if (!s.reachable || within < width / 4 || within > (3 * width) / 4) continue;
    const cut = report.firstCut[i]!;
    const at = { feature: f.feature.id, xMm: s.at.x, yMm: s.at.y };
    if (cut.run < 0) {
      findings.push(
        problem({
          code: 'PROOF-TAB-NOT-CUT',
          severity: 'stop',
          what: `${f.feature.id}: the tab at (${s.at.x.toFixed(3)}, ${s.at.y.toFixed(3)}) is never cut`,
          fix: 'Add the tab cut after the stop',
          at,
        }),
      );
      return;
    }
    const stop = stopBefore(cut.run, ordered, walk);
    if (stop !== 'stop') {
      findings.push(
        problem({
          code: 'PROOF-TAB-NOT-HELD',
          severity: 'stop',
          what: `Line ${cut.line}: the tab of ${f.feature.id} is cut, ${stopWords(stop)}`,
          fix: `Put a stop (M00) directly before the tab cut, so that ${pieceName(f)} is held`,
          at: { ...at, line: cut.line },
        }),
      );
      return;
    }
  }
}
