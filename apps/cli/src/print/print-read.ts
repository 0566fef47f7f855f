import type { ReadDocument } from '@gapwright/job';
import { textTable } from '../text-table.js';

/** Most rows of one table on a screen; the rest is counted, JSON has all. */
const MOST_ROWS = 40;

/** The drawing as a planner wants to hear of it. */
export function readText(document: ReadDocument): string {
  const out: string[] = [];
  const { boxMm: box } = document;
  const assumed = document.unitsAssumed ? ' (assumed)' : '';
  out.push(`${document.file}: ${document.version ?? 'DXF'}, units ${document.units}${assumed}`);
  if (box !== null) {
    out.push(
      `${(box.maxX - box.minX).toFixed(3)} x ${(box.maxY - box.minY).toFixed(3)} mm, ${count(document.contours.length, 'contour')}`,
    );
  }
  if (document.contours.length > 0) {
    const rows = document.contours
      .slice(0, MOST_ROWS)
      .map((c, i) => [
        String(i + 1),
        c.role,
        c.layer,
        String(c.segments.length),
        c.lengthMm.toFixed(3),
        c.closed ? c.areaMm2.toFixed(3) : '-',
        c.minInsideRadiusMm === null ? '-' : c.minInsideRadiusMm.toFixed(3),
        String(c.sharpInsideCorners),
      ]);
    const head = ['#', 'role', 'layer', 'segments', 'length mm', 'area mm2', 'min inside R', 'sharp corners'];
    out.push('', textTable(head, rows, [0, 1, 2]));
    if (document.contours.length > MOST_ROWS)
      out.push(`and ${document.contours.length - MOST_ROWS} more; --json lists all`);
  }
  if (document.largestFitDeviationMm > 0) {
    out.push(
      '',
      `Splines and ellipses are fitted by arcs; largest deviation ${(document.largestFitDeviationMm * 1000).toFixed(3)} um.`,
    );
  }
  if (document.repairs.length > 0) {
    out.push('', `Repairs (${document.repairs.length}):`);
    for (const r of document.repairs.slice(0, MOST_ROWS)) {
      const { xMm = 0, yMm = 0, layer } = r.at;
      out.push(`  ${r.kind} ${r.sizeMm.toFixed(4)} mm at (${xMm.toFixed(3)}, ${yMm.toFixed(3)}) on layer ${layer}`);
    }
  }
  if (document.skipped.length > 0) {
    out.push('', 'Not taken:');
    for (const s of document.skipped.slice(0, MOST_ROWS))
      out.push(`  ${s.count} ${s.kind} on layer ${s.layer}: ${s.reason}`);
  }
  return out.join('\n');
}

function count(n: number, word: string): string {
  return `${n} ${word}${n === 1 ? '' : 's'}`;
}
