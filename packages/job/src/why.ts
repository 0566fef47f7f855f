import {
  BugError,
  type FigureJson,
  type Problem,
  problem,
  type Result,
  type Source,
  type WorkingTable,
} from '@gapwright/base';

/** The working of one figure, opened down to what somebody stated, measured or published. */
export interface WorkingNode {
  readonly id: string;
  /** Name of this figure inside the formula above it; the asked-for path at the top. */
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly low: number;
  readonly high: number;
  readonly says: string;
  readonly formula: string | null;
  readonly source: Source;
  readonly outsideRange: readonly string[];
  readonly inputs: readonly WorkingNode[];
  /** True when this figure was opened already, further up; its inputs are left out here. */
  readonly seenAbove: boolean;
}

/** What makes a figure uncertain: one cause and its share of the variance. */
export interface DoubtShare {
  readonly cause: string;
  readonly share: number;
}

/** The answer to "why": the working, and which doubt matters most. */
export interface Why {
  readonly path: string;
  readonly working: WorkingNode;
  readonly doubts: readonly DoubtShare[];
}

/** A packed document with the table its figures point into. */
export type PackedDocument = WorkingTable;

/**
 * Opens the figure at a dotted path such as `totals.burnMin` or `operations.1.passes.0.offsetMm`.
 * A path that leads nowhere is a stop problem that lists what is there.
 */
export function whyOf(document: PackedDocument, path: string, depth = Number.POSITIVE_INFINITY): Result<Why> {
  const found = figureAt(document, path);
  if ('code' in found) return { value: null, problems: [found] };
  const working = open(found.id, path, document, depth, new Set());
  return { value: { path, working, doubts: doubtShares(document.figures[found.id]?.doubts ?? {}) }, problems: [] };
}

/** Paths of all figures in the document, in reading order. */
export function figurePaths(document: PackedDocument): string[] {
  const out: string[] = [];
  const walk = (value: unknown, path: string): void => {
    if (isFigureJson(value)) {
      out.push(path);
      return;
    }
    if (typeof value !== 'object' || value === null) return;
    for (const [key, inner] of Object.entries(value)) {
      if (path === '' && (key === 'figures' || key === 'sources')) continue;
      walk(inner, path === '' ? key : `${path}.${key}`);
    }
  };
  walk(document, '');
  return out;
}

function isFigureJson(value: unknown): value is FigureJson {
  return typeof value === 'object' && value !== null && 'reasons' in value && 'id' in value && 'unit' in value;
}

function figureAt(document: PackedDocument, path: string): FigureJson | Problem {
  if (Object.hasOwn(document.figures, path)) return { ...document.figures[path]!, id: path, reasons: [] };
  let at: unknown = document;
  const walked: string[] = [];
  for (const step of path.replaceAll(/\[(\d+)\]/g, '.$1').split('.')) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, step)) {
      const here = walked.join('.') || 'the top';
      const fields = typeof at === 'object' && at !== null ? Object.keys(at).slice(0, 30).join(', ') : 'nothing';
      return problem({
        code: 'WHY-NO-SUCH-PATH',
        severity: 'stop',
        what: `There is no "${step}" at ${here}; there is ${fields}`,
        fix: 'Give the path of a figure, e.g. totals.burnMin or operations.1.passes.0.offsetMm',
        at: { field: path },
      });
    }
    at = (at as Record<string, unknown>)[step];
    walked.push(step);
  }
  if (isFigureJson(at)) return at;
  const inside =
    typeof at === 'object' && at !== null ? figurePaths({ ...(at as object), figures: {}, sources: {} }) : [];
  return problem({
    code: 'WHY-NOT-A-FIGURE',
    severity: 'stop',
    what: `"${path}" is not a figure with a working${inside.length > 0 ? `; inside it are ${inside.slice(0, 12).join(', ')}` : ''}`,
    fix: 'Give the path of one figure',
    at: { field: path },
  });
}

function open(id: string, name: string, document: PackedDocument, depth: number, seen: Set<string>): WorkingNode {
  const row = document.figures[id];
  const source = row === undefined ? undefined : document.sources[row.source];
  if (row === undefined || source === undefined) throw new BugError(`figure ${id} has no row or source in the table`);
  const inputs = Object.entries(row.inputs ?? {});
  const seenAbove = inputs.length > 0 && seen.has(id);
  seen.add(id);
  return {
    id,
    name,
    value: row.value,
    unit: row.unit,
    low: row.low,
    high: row.high,
    says: row.says,
    formula: row.formula ?? null,
    source,
    outsideRange: row.outsideRange ?? [],
    inputs: seenAbove || depth <= 0 ? [] : inputs.map(([n, input]) => open(input, n, document, depth - 1, seen)),
    seenAbove,
  };
}

/** Causes of uncertainty by their share of the variance, largest first. */
export function doubtShares(doubts: Readonly<Record<string, number>>): DoubtShare[] {
  const total = Object.values(doubts).reduce((sum, sd) => sum + sd * sd, 0);
  if (total === 0) return [];
  return Object.entries(doubts)
    .map(([cause, sd]) => ({ cause, share: (sd * sd) / total }))
    .sort((a, b) => b.share - a.share);
}
