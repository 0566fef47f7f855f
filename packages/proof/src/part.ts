import { type Contour, contourBox, type Point, type Segment } from '@gapwright/geometry';
import { BoxTree } from './box-tree.js';
import { distanceTo } from './distance.js';
import { InsideIndex } from './inside-index.js';
import { roundInsideCorners } from './round-corners.js';
import type { ProofFeature, ProofSetup } from './setup.js';
import { isInside, sideOfOpen } from './side-of.js';

/** One drawn contour, ready for questions. */
export interface PartFeature {
  readonly index: number;
  readonly feature: ProofFeature;
  readonly contour: Contour;
  readonly tree: BoxTree;
  /** Tells inside from outside; of no meaning for open cuts. */
  readonly inside: InsideIndex;
  /** +1 when the wire belongs left of the drawn direction, -1 right of it. */
  readonly wireSign: 1 | -1;
  /** The contour with inside corners rounded as agreed; what rest is measured against. Null when it cannot be made. */
  readonly allowed: Contour | null;
  /** Index of the outline this opening lies in; null for outlines, open cuts and openings of the plate itself. */
  readonly outline: number | null;
}

/** The drawing: all contours with an index over their segments. */
export class Part {
  readonly features: readonly PartFeature[];
  private readonly segments: Segment[] = [];
  private readonly owners: number[] = [];
  private readonly tree: BoxTree;
  private readonly hasOutline: boolean;

  constructor(features: readonly ProofFeature[], setup: ProofSetup) {
    const outlines = features.map((f, i) => ({ f, i })).filter(({ f }) => f.kind === 'outline');
    this.hasOutline = outlines.length > 0;
    this.features = features.map((feature, index) => {
      const { contour } = feature;
      const wireSign = wireSignOf(feature);
      const start = contour.segments[0]?.from;
      const around =
        feature.kind === 'opening' && start !== undefined
          ? outlines
              .filter(({ f }) => isInside(f.contour, start))
              .sort((a, b) => boxArea(a.f.contour) - boxArea(b.f.contour))[0]
          : undefined;
      for (const s of contour.segments) {
        this.segments.push(s);
        this.owners.push(index);
      }
      return {
        index,
        feature,
        contour,
        tree: new BoxTree(contour.segments),
        inside: new InsideIndex(contour),
        wireSign,
        allowed:
          setup.agreedCornerRadiusMm > 0 ? roundInsideCorners(contour, wireSign * setup.agreedCornerRadiusMm) : contour,
        outline: around?.i ?? null,
      };
    });
    this.tree = new BoxTree(this.segments);
  }

  /** The feature whose contour is nearest, with the distance. Index -1 when nothing is drawn. */
  nearest(p: Point): { readonly feature: number; readonly distanceMm: number } {
    const found = this.tree.least(p.x, p.y, Number.POSITIVE_INFINITY, (i) => distanceTo(this.segments[i]!, p.x, p.y));
    return { feature: found.index < 0 ? -1 : this.owners[found.index]!, distanceMm: found.value };
  }

  /** True when the place lies on the side of this feature's contour that must remain. */
  isOnPartSide(f: PartFeature, p: Point): boolean {
    if (f.feature.kind === 'open') return sideOfOpen(f.contour, p) === f.feature.partSide;
    return f.inside.has(p) === (f.feature.kind === 'outline');
  }

  /** True when material at this place must remain, judged by the nearest contour. */
  isPart(p: Point): { readonly part: boolean; readonly feature: number; readonly distanceMm: number } {
    const near = this.nearest(p);
    const f = this.features[near.feature];
    if (f === undefined) return { part: false, ...near };
    let part = this.isOnPartSide(f, p);
    // Between loose parts and plate openings lies waste of the one and body of the other; there only contact counts.
    if (part && f.feature.kind === 'opening' && f.outline === null && this.hasOutline) part = false;
    return { part, ...near };
  }
}

/** Orientation of a closed contour by its signed chord-and-arc area decides the wire's side. */
function wireSignOf(feature: ProofFeature): 1 | -1 {
  if (feature.kind === 'open') return feature.partSide === 'left' ? -1 : 1;
  let twice = 0;
  const origin = feature.contour.segments[0]?.from ?? { x: 0, y: 0 };
  for (const s of feature.contour.segments) {
    twice += (s.from.x - origin.x) * (s.to.y - origin.y) - (s.to.x - origin.x) * (s.from.y - origin.y);
    if (s.kind === 'arc') twice += s.radiusMm * s.radiusMm * (s.sweepRad - Math.sin(s.sweepRad));
  }
  const insideIsLeft = twice > 0;
  return insideIsLeft === (feature.kind === 'opening') ? 1 : -1;
}

function boxArea(c: Contour): number {
  const b = contourBox(c);
  return (b.maxX - b.minX) * (b.maxY - b.minY);
}
