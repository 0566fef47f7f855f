import type { BookCompareDocument } from '@gapwright/job';
import { wrap } from '../text-table.js';

/** Most changes of one kind on a screen; JSON has all. */
const MOST_TOLD = 40;

/** What changed from one technology book to another. */
export function bookCompareText(d: BookCompareDocument): string {
  const head = (word: string, b: BookCompareDocument['from']): string =>
    wrap(`${word} ${b.file}: ${b.name}, version ${b.version}, ${b.points} points`, 100, '     ');
  const out = [head('from', d.from), head('to  ', d.to), ''];
  if (d.changes.length === 0) out.push('The points are the same.');
  else out.push(`${changeCounts(d.changes)}.`, ...changeLines(d.changes, MOST_TOLD));
  return out.join('\n');
}

/** `2 points added, 1 changed`. */
export function changeCounts(changes: BookCompareDocument['changes']): string {
  const parts = (['added', 'removed', 'changed'] as const).flatMap((kind) => {
    const count = changes.filter((c) => c.kind === kind).length;
    return count === 0 ? [] : [{ kind, count }];
  });
  return parts.map((p, k) => `${p.count} ${k > 0 ? '' : p.count === 1 ? 'point ' : 'points '}${p.kind}`).join(', ');
}

/** One wrapped sentence per change, so many of each kind. */
export function changeLines(changes: BookCompareDocument['changes'], most: number): string[] {
  const shown = new Map<string, number>();
  const lines: string[] = [];
  for (const { kind, says } of changes) {
    const count = (shown.get(kind) ?? 0) + 1;
    shown.set(kind, count);
    if (count <= most) lines.push(wrap(`  ${says}`, 100, '    '));
  }
  for (const [kind, count] of shown) {
    if (count > most) lines.push(`  and ${count - most} more ${kind}; --json lists all`);
  }
  return lines;
}
