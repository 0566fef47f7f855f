import type { Problem } from '@gapwright/base';
import { distanceMm, type Point, pointAt, segmentLengthMm } from '@gapwright/geometry';
import { isClearOfBox } from './boxes.js';
import { distanceTo } from './distance.js';
import { failAtLine, placeOf } from './line-finding.js';
import type { Part } from './part.js';
import type { ProofSetup } from './setup.js';
import { isInside } from './side-of.js';
import type { Sweep } from './sweep.js';
import { SAME_POINT_MM } from './tolerances.js';
import type { Walk, WireMove } from './walk.js';

/** A threaded rapid is looked at this often, mm. */
const RAPID_STEP_MM = 0.05;

/** With wire in the work a rapid may run only where there is nothing: start hole, kerf so far, freed opening, beside the plate. */
export function checkThreadedRapids(
  walk: Walk,
  sweep: Sweep,
  part: Part,
  slugs: readonly { feature: string; freedAtLine: number }[],
  setup: ProofSetup,
): Problem[] {
  const out: Problem[] = [];
  const half = setup.wireDiameterMm / 2;
  for (const m of walk.moves) {
    if (!m.rapid || !m.threaded) continue;
    const length = segmentLengthMm(m.segment);
    const count = Math.min(2000, Math.max(2, Math.ceil(length / RAPID_STEP_MM)));
    for (let k = 0; k <= count; k++) {
      const p = pointAt(m.segment, k / count);
      if (isFree(p, m, half, sweep, part, slugs, setup)) continue;
      out.push(
        failAtLine(
          'PROOF-RAPID-THROUGH-MATERIAL',
          m.line,
          `a rapid move drags the wire through material at ${placeOf(p)}`,
          'Cut the wire first, or move in feed',
          p,
        ),
      );
      break;
    }
  }
  return out;
}

function isFree(
  p: Point,
  m: WireMove,
  half: number,
  sweep: Sweep,
  part: Part,
  slugs: readonly { feature: string; freedAtLine: number }[],
  setup: ProofSetup,
): boolean {
  if (setup.plate !== null && isClearOfBox(setup.plate, p, half)) return true;
  if (setup.startHoles.some((h) => distanceMm(h.centre, p) + half <= h.diameterMm / 2 + SAME_POINT_MM)) return true;
  let free = false;
  sweep.near(p, 0, (i) => {
    if (free || sweep.moves[i]!.motion >= m.motion) return;
    free = distanceTo(sweep.segments[i]!, p.x, p.y) + half <= sweep.radii[i]! + SAME_POINT_MM;
  });
  if (free) return true;
  for (const f of part.features) {
    if (f.feature.kind !== 'opening') continue;
    const slug = slugs.find((s) => s.feature === f.feature.id);
    if (slug !== undefined && slug.freedAtLine < m.line && isInside(f.contour, p)) return true;
  }
  return false;
}
