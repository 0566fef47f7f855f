import type { DxfLayer } from './drawing.js';
import type { DxfRecord } from './record.js';

/** Bits of group 70 of a LAYER. */
const IS_FROZEN = 1;
const IS_LOCKED = 4;

/** Colour of layers that give none: black or white. */
const DEFAULT_COLOUR = 7;

/** A LAYER entry of the tables; null for one without a name. A negative colour means the layer is off. */
export function readLayer(record: DxfRecord): DxfLayer | null {
  if (record.name === null) return null;
  const flags = record.whole(70, 'flags', 0, 0, 65_535);
  const colour = record.whole(62, 'colour', DEFAULT_COLOUR, -257, 257);
  return {
    name: record.name,
    isFrozen: (flags & IS_FROZEN) !== 0,
    isLocked: (flags & IS_LOCKED) !== 0,
    isOff: colour < 0,
    colour: Math.abs(colour),
    lineType: record.lineType,
  };
}
