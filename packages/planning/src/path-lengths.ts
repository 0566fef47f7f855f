import { distanceMm } from '@gapwright/geometry';
import { placeAt } from './contour-walk.js';
import { type FeatureLengths, type ShapeLayout, tabMmOf } from './layout.js';

/**
 * Lengths of the cuts over one feature without building the steps: the choice of wire and ladder asks for them many
 * times. The steps have the same lengths (tested). `isAlone`: the only outline of its group, whose tab is cut without
 * rethreading.
 */
export function featureLengths(layout: Omit<ShapeLayout, 'lengths'>, isAlone: boolean): FeatureLengths {
  const { shape, entry, outMm } = layout;
  const length = shape.walk.lengthMm;
  const tab = tabMmOf(layout);
  const lead = entry.leadMm;
  const { overlapMm, closeMm } = entry.ends;
  if (shape.feature.role === 'open') {
    const out = outMm * Math.SQRT2;
    return {
      roughMm: lead + length + out,
      skimMm: out + length + out,
      threadings: 1,
      skimThreadings: 0,
    };
  }
  if (shape.feature.role === 'outline' && tab > 0) {
    const main = length - tab;
    const skim = main + 2 * outMm + tab + 2 * overlapMm + 2 * outMm;
    return {
      roughMm: lead + main + outMm + (isAlone ? outMm : lead) + tab + overlapMm + outMm,
      skimMm: skim,
      threadings: isAlone ? 1 : 2,
      skimThreadings: 0,
    };
  }
  const end = placeAt(shape.walk, entry.place.s + closeMm).at;
  const skim = lead + length + closeMm + distanceMm(end, entry.from);
  const rough = tab > 0 ? lead + (length - tab) + outMm + lead + tab + overlapMm + outMm : lead + length + lead;
  return {
    roughMm: rough,
    skimMm: skim,
    threadings: tab > 0 ? 2 : 1,
    skimThreadings: tab > 0 ? 1 : 0,
  };
}
