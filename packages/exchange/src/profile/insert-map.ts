import { type Affine, compose, rotation, scaling, translation } from '@gapwright/geometry';
import type { DxfBlock, DxfInsert } from '../dxf/drawing.js';

/** Mirror of entities seen from behind: own x is minus world x. */
const FROM_BEHIND = scaling(-1, 1);

/** The map from a block's coordinates to those of the drawing (or block) that places it, for one cell of the array. */
export function insertMap(insert: DxfInsert, block: DxfBlock, column: number, row: number): Affine {
  const { at, isMirrored } = insert;
  const own = isMirrored ? -at.x : at.x;
  const placed = compose(
    translation(-block.base.x, -block.base.y),
    scaling(insert.scaleX, insert.scaleY),
    // The steps of an array turn with it but are not scaled.
    translation(column * insert.columnStep, row * insert.rowStep),
    rotation(insert.rotationRad),
    translation(own, at.y),
  );
  return isMirrored ? compose(placed, FROM_BEHIND) : placed;
}
