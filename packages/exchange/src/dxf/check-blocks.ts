import { type DxfBlock, type DxfDrawing, type DxfEntity, type DxfInsert, nameKey } from './drawing.js';
import { Refusal } from './refusal.js';
import type { TagSource } from './tag-source.js';
import { printable } from './text-tags.js';

/** Most blocks within blocks; drawings of parts nest a handful of levels. */
const DEEPEST_NESTING = 64;

/** Refuses a drawing that places a block it does not hold, a block that contains itself, or nests too deep. */
export function checkBlocks(drawing: Pick<DxfDrawing, 'blocks' | 'entities'>, tags: TagSource): void {
  const blocks = new Map(drawing.blocks.map((b) => [nameKey(b.name), b]));
  const done = new Set<DxfBlock>();
  const open = new Set<DxfBlock>();
  const visit = (entities: readonly DxfEntity[]): void => {
    for (const entity of entities) {
      if (entity.kind !== 'insert') continue;
      const block = blocks.get(nameKey(entity.block));
      if (block === undefined) refuse(entity, 'DXF-MISSING-BLOCK', 'which the file does not hold');
      if (done.has(block)) continue;
      if (open.has(block)) refuse(entity, 'DXF-BLOCK-IN-ITSELF', 'which contains that insert itself');
      if (open.size >= DEEPEST_NESTING) {
        refuse(entity, 'DXF-BLOCKS-TOO-DEEP', `the ${DEEPEST_NESTING + 1}th block within another`);
      }
      open.add(block);
      visit(block.entities);
      open.delete(block);
      done.add(block);
    }
  };
  visit(drawing.entities);

  function refuse(insert: DxfInsert, code: string, what: string): never {
    throw new Refusal(
      code,
      `The INSERT on layer ${printable(insert.layer)} at ${tags.where(insert.position)} places the block "${printable(insert.block)}", ${what}`,
      'Explode or delete the insert, and export the drawing again',
      {
        ...tags.place(insert.position),
        layer: insert.layer,
        ...(insert.handle === null ? {} : { handle: insert.handle }),
      },
    );
  }
}
