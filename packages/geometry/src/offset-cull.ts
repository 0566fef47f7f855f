import type { BoxTree } from './box-tree.js';
import type { RawOffset } from './offset-raw.js';
import { type Pieces, STRIDE, writeMiddle } from './pieces.js';

/** Below this many mean segment lengths of offset few pieces are covered, and looking for them costs more than it saves. */
const WORTHWHILE_LENGTHS = 2;

const middle = new Float64Array(2);

/**
 * Takes out raw pieces that lie too near the source along their whole length: those whose middle is nearer than the
 * distance by more than the piece reaches from it. After a large offset that is nearly all of them, and the crossings
 * among them, which grow with the square, are never looked for.
 */
export function cullCovered(raw: RawOffset, source: Pieces, sourceTree: BoxTree, limitMm: number): void {
  const n = raw.pieces.count;
  if (n === 0 || limitMm < WORTHWHILE_LENGTHS * meanChord(source)) return;
  const d = raw.pieces.data;
  const { isLinked } = raw;
  const firstKept = !isCovered(d, 0, source, sourceTree, limitMm);
  const wasWrapped = isLinked[n - 1] === 1;
  let kept = 0;
  // 1 while the piece before the current one was kept.
  let isBeforeKept = false;
  for (let i = 0; i < n; i++) {
    const isKept = i === 0 ? firstKept : !isCovered(d, i, source, sourceTree, limitMm);
    if (isKept) {
      if (kept !== i) d.copyWithin(kept * STRIDE, i * STRIDE, (i + 1) * STRIDE);
      isLinked[kept] = isLinked[i]!;
      kept++;
    } else if (isBeforeKept) isLinked[kept - 1] = 0;
    isBeforeKept = isKept;
  }
  raw.pieces.count = kept;
  raw.hasStart &&= firstKept;
  raw.hasEnd &&= isBeforeKept;
  if (kept > 0 && !(wasWrapped && firstKept && isBeforeKept)) isLinked[kept - 1] = 0;
}

function isCovered(d: Float64Array, i: number, source: Pieces, tree: BoxTree, limitMm: number): boolean {
  const k = i * STRIDE;
  const fx = d[k]!;
  const fy = d[k + 1]!;
  const tx = d[k + 2]!;
  const ty = d[k + 3]!;
  writeMiddle(d, i, fx, fy, tx, ty, middle);
  const mx = middle[0]!;
  const my = middle[1]!;
  // Of a piece of at most half a turn the ends are furthest from the middle.
  const reach = Math.sqrt(
    Math.max((fx - mx) * (fx - mx) + (fy - my) * (fy - my), (tx - mx) * (tx - mx) + (ty - my) * (ty - my)),
  );
  return tree.anyCloserThan(source, mx, my, limitMm - reach) >= 0;
}

function meanChord(source: Pieces): number {
  const d = source.data;
  let total = 0;
  for (let k = 0; k < source.count * STRIDE; k += STRIDE) {
    const dx = d[k + 2]! - d[k]!;
    const dy = d[k + 3]! - d[k + 1]!;
    total += Math.sqrt(dx * dx + dy * dy);
  }
  return total / source.count;
}
