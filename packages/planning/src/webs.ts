import { type Problem, problem } from '@gapwright/base';
import { closestApproach, type Point, type Segment, segmentBox } from '@gapwright/geometry';
import type { Shape } from './shape.js';

/** Two features that come near each other. */
export interface Web {
  readonly a: Shape;
  readonly b: Shape;
  readonly widthMm: number;
  readonly at: Point;
  /** True when the material between them belongs to a part; false when it is waste between two kerfs. */
  readonly isPart: boolean;
}

/** Part walls thinner than this tend to move while they are cut, mm (common practice, no source). */
const THIN_WALL_MM = 0.5;
/** More warnings of one kind than this say nothing new. */
const MOST_NAMED = 8;

/** The nearest places of all pairs of features that come nearer than `withinMm`, found over a grid of segment boxes. */
export function findWebs(shapes: readonly Shape[], withinMm: number): Web[] {
  const owners: number[] = [];
  const segments: Segment[] = [];
  shapes.forEach((shape, k) => {
    for (const s of shape.feature.contour.segments) {
      owners.push(k);
      segments.push(s);
    }
  });
  const boxes = segments.map(segmentBox);
  // A sweep over x: only segments whose boxes overlap in x, grown by the distance looked for, are compared.
  const order = boxes.map((_, i) => i).sort((i, j) => boxes[i]!.minX - boxes[j]!.minX);
  const nearest = new Map<number, Web>();
  const live: number[] = [];
  for (const i of order) {
    const box = boxes[i]!;
    for (let k = live.length - 1; k >= 0; k--) {
      const j = live[k]!;
      const other = boxes[j]!;
      if (other.maxX + withinMm < box.minX) {
        live[k] = live[live.length - 1]!;
        live.pop();
        continue;
      }
      if (owners[i] === owners[j]) continue;
      if (other.maxY + withinMm < box.minY || box.maxY + withinMm < other.minY) continue;
      const found = closestApproach(segments[i]!, segments[j]!);
      if (found.distanceMm >= withinMm) continue;
      const first = Math.min(owners[i]!, owners[j]!);
      const second = Math.max(owners[i]!, owners[j]!);
      const key = first * shapes.length + second;
      const known = nearest.get(key);
      if (known !== undefined && known.widthMm <= found.distanceMm) continue;
      const a = shapes[first]!;
      const b = shapes[second]!;
      const at = {
        x: (found.onFirst.x + found.onSecond.x) / 2,
        y: (found.onFirst.y + found.onSecond.y) / 2,
      };
      nearest.set(key, { a, b, widthMm: found.distanceMm, at, isPart: isPartBetween(a, b) });
    }
    live.push(i);
  }
  return [...nearest.entries()].sort((p, q) => p[0] - q[0]).map(([, web]) => web);
}

/** An opening's outside is its part; between two outlines, or an opening and an outline inside it, there is waste. */
function isPartBetween(a: Shape, b: Shape): boolean {
  const [p, q] = [a.feature, b.feature];
  if (p.role === 'opening' && q.role === 'opening') return true;
  const [outline, opening] = p.role === 'outline' ? [a, b] : [b, a];
  if (outline.feature.role !== 'outline' || opening.feature.role !== 'opening') return false;
  return outline.depth < opening.depth;
}

/** Warnings about thin walls and kerfs that run into each other. `kerfMm` is the widest kerf of a cut. */
export function webProblems(webs: readonly Web[], offsetMm: number, kerfMm: number): Problem[] {
  const out: Problem[] = [];
  for (const web of webs) {
    const where = `between ${web.a.feature.id} and ${web.b.feature.id} at (${web.at.x.toFixed(2)}, ${web.at.y.toFixed(2)})`;
    const at = { xMm: web.at.x, yMm: web.at.y, feature: web.b.feature.id };
    if (web.isPart && web.widthMm < THIN_WALL_MM) {
      const what = `The wall ${where} is only ${web.widthMm.toFixed(2)} mm thick and may move while it is cut`;
      const fix = 'Ask whether it can be thicker, or cut it last with little energy';
      out.push(problem({ code: 'WIRE-WALL-THIN', severity: 'warn', what, fix, at }));
    } else if (!web.isPart && web.widthMm < offsetMm * 2) {
      const what = `The cuts ${where} run into each other: ${web.widthMm.toFixed(2)} mm for two kerfs of ${kerfMm.toFixed(2)} mm side by side`;
      const fix = 'Move the contours apart';
      out.push(problem({ code: 'WIRE-KERFS-MEET', severity: 'stop', what, fix, at }));
    }
  }
  if (out.length <= MOST_NAMED) return out;
  const rest = out.length - MOST_NAMED;
  const more = problem({
    code: 'WIRE-WEBS-MORE',
    severity: out.slice(MOST_NAMED).some((p) => p.severity === 'stop') ? 'stop' : 'warn',
    what: `${rest} more thin walls or meeting kerfs like these`,
  });
  return [...out.slice(0, MOST_NAMED), more];
}
