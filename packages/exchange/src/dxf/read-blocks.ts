import { type DxfBlock, nameKey } from './drawing.js';
import type { Notes } from './notes.js';
import type { EntityReader } from './read-entities.js';
import { DxfRecord } from './record.js';
import { Refusal } from './refusal.js';
import type { TagSource } from './tag-source.js';

/** Bits of group 70 of a BLOCK whose content is in another file. */
const IS_EXTERNAL = 4 | 8;

/** Reads the BLOCKS section from its first group 0 up to ENDSEC. */
export function readBlocks(tags: TagSource, entities: EntityReader, notes: Notes): DxfBlock[] {
  const blocks = new Map<string, DxfBlock>();
  const record = new DxfRecord(tags);
  for (;;) {
    const word = tags.word();
    if (word === 'ENDSEC') return [...blocks.values()];
    if (word !== 'BLOCK') {
      throw new Refusal(
        'DXF-BAD-STRUCTURE',
        `${tags.where(tags.position)} holds ${word} where a BLOCK or the end of the BLOCKS section should be`,
        'Export the drawing again',
        tags.place(tags.position),
      );
    }
    record.read(true);
    const { name } = record;
    const label = record.label();
    const place = record.place();
    const base = { x: record.optional(10, 0), y: record.optional(20, 0) };
    const isExternal = (record.whole(70, 'flags', 0, 0, 65_535) & IS_EXTERNAL) !== 0;
    const content = entities.readUntil('ENDBLK');
    record.read(false);
    if (name === null || name === '') {
      notes.add(
        'DXF-BLOCK-NO-NAME',
        'warn',
        `${label} has no name; nothing can place it, and it is left out`,
        'Export the drawing again if parts are missing',
        place,
      );
    } else if (blocks.has(nameKey(name))) {
      throw new Refusal(
        'DXF-BLOCK-TWICE',
        `${label} has the name "${name}" of a block before it; it is not clear which one is meant`,
        'Rename or delete one of them, and export the drawing again',
        place,
      );
    } else blocks.set(nameKey(name), { name, base, isExternal, ...content });
  }
}
