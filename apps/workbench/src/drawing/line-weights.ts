import type { SceneLayer } from '@gapwright/job';
import type { DrawingColours } from './types.js';

/** How one kind of line looks: width in CSS pixels, dashes in CSS pixels, and which colour. Width tells the meaning. */
export interface LineWeight {
  readonly widthPx: number;
  readonly dashPx: readonly number[];
  readonly colour: keyof DrawingColours;
}

/** Weights of the passes from the rough cut on; later ones keep the last. */
const PASS_WIDTHS_PX = [2.6, 1.8, 1.3, 0.9] as const;

export function lineWeight(layer: Pick<SceneLayer, 'kind' | 'pass'>): LineWeight {
  switch (layer.kind) {
    case 'part':
      return { widthPx: 1.4, dashPx: [], colour: 'ink' };
    case 'reference':
      return { widthPx: 0.8, dashPx: [], colour: 'ruleStrong' };
    case 'pass': {
      const rank = Math.min(PASS_WIDTHS_PX.length, Math.max(1, layer.pass ?? 1)) - 1;
      return { widthPx: PASS_WIDTHS_PX[rank]!, dashPx: [], colour: 'faint' };
    }
    case 'lead-in':
      return { widthPx: 1.2, dashPx: [7, 4], colour: 'faint' };
    case 'open end':
      return { widthPx: 2.2, dashPx: [2, 3], colour: 'needs' };
  }
}

/** Thin reference lines lie lowest, then the wire's paths from the rough one on, then the part. */
const ORDER = ['reference', 'pass', 'lead-in', 'part', 'open end'] as const;

/** Indices of the layers to draw, lowest first. */
export function layersToDraw(
  layers: readonly SceneLayer[],
  withPasses: boolean,
  operation: number | null,
): readonly number[] {
  return layers
    .map((layer, index) => ({ layer, index }))
    .filter(({ layer }) => isLayerShown(layer, withPasses, operation))
    .sort(
      (a, b) => ORDER.indexOf(a.layer.kind) - ORDER.indexOf(b.layer.kind) || (a.layer.pass ?? 0) - (b.layer.pass ?? 0),
    )
    .map(({ index }) => index);
}

export function isLayerShown(
  layer: Pick<SceneLayer, 'kind' | 'operation'>,
  withPasses: boolean,
  operation: number | null,
): boolean {
  if (!withPasses && (layer.kind === 'pass' || layer.kind === 'lead-in')) return false;
  return operation === null || layer.operation === undefined || layer.operation === operation;
}
