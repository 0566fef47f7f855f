import { type Problem, problem } from '@gapwright/base';
import { type Affine, compose } from '@gapwright/geometry';
import {
  type DxfBlock,
  type DxfDrawing,
  type DxfEntity,
  type DxfInsert,
  nameKey,
  type SkippedEntities,
} from '../dxf/drawing.js';
import { SkipList } from '../dxf/notes.js';
import { insertMap } from './insert-map.js';

/** Most lines, arcs and curve points that placed blocks may add up to: some hundred megabytes when expanded. */
const MOST_PLACED_PIECES = 1_000_000;

/** An entity that is not an insert, with the layer it takes and the map into the drawing, mm. */
export interface PlacedEntity {
  readonly entity: Exclude<DxfEntity, DxfInsert>;
  readonly layer: string;
  readonly map: Affine;
}

export interface Expansion {
  readonly placed: readonly PlacedEntity[];
  readonly skipped: readonly SkippedEntities[];
  readonly stop: Problem | null;
}

/** Kinds as DXF writes them, for lists. */
const KIND_WORD: Readonly<Record<DxfEntity['kind'], string>> = {
  line: 'LINE',
  arc: 'ARC',
  circle: 'CIRCLE',
  polyline: 'POLYLINE',
  ellipse: 'ELLIPSE',
  spline: 'SPLINE',
  'fit-spline': 'SPLINE',
  insert: 'INSERT',
};

/**
 * Places every block and leaves out hidden layers (frozen or off) and, when `layers` is given, all others. Entities on
 * layer 0 of a block take the layer of the insert. Expects a drawing as `readDxf` gives it: no block is missing or
 * contains itself.
 */
export function expandDrawing(drawing: DxfDrawing, root: Affine, layers: readonly string[] | null): Expansion {
  const blocks = new Map(drawing.blocks.map((b) => [nameKey(b.name), b]));
  const stop = tooMany(drawing, blocks);
  if (stop !== null) return { placed: [], skipped: drawing.skipped, stop };
  const walk = new Expander(drawing, blocks, layers);
  walk.place(drawing.entities, root, null);
  for (const s of drawing.skipped) walk.skipped.add(s.kind, s.layer, s.reason, s.handle, s.position, s.count);
  return { placed: walk.placed, skipped: walk.skipped.list(), stop: null };
}

class Expander {
  readonly placed: PlacedEntity[] = [];
  readonly skipped = new SkipList();
  private readonly blocks: ReadonlyMap<string, DxfBlock>;
  private readonly hidden: ReadonlyMap<string, string>;
  private readonly chosen: ReadonlySet<string> | null;

  constructor(drawing: DxfDrawing, blocks: ReadonlyMap<string, DxfBlock>, layers: readonly string[] | null) {
    this.blocks = blocks;
    this.chosen = layers === null ? null : new Set(layers.map(nameKey));
    this.hidden = new Map(
      drawing.layers
        .filter((l) => l.isFrozen || l.isOff)
        .map((l) => [nameKey(l.name), l.isFrozen ? 'lies on a frozen layer' : 'lies on a layer that is off']),
    );
  }

  place(entities: readonly DxfEntity[], map: Affine, insertLayer: string | null): void {
    for (const entity of entities) {
      const layer = insertLayer !== null && entity.layer === '0' ? insertLayer : entity.layer;
      if (entity.kind === 'insert') this.placeInsert(entity, map, layer);
      else {
        const reason = this.reasonToSkip(layer);
        if (reason === null) this.placed.push({ entity, layer, map });
        else this.skip(entity, layer, reason);
      }
    }
  }

  private placeInsert(insert: DxfInsert, map: Affine, layer: string): void {
    const block = this.blocks.get(nameKey(insert.block));
    if (block === undefined) return;
    const hidden = this.hidden.get(nameKey(layer));
    // Freezing hides all that an insert places; turning its layer off hides only what takes that layer.
    if (hidden === 'lies on a frozen layer') {
      this.skip(insert, layer, hidden);
      return;
    }
    if (block.isExternal) {
      this.skip(insert, layer, 'places a drawing that is in another file');
      return;
    }
    for (let row = 0; row < insert.rows; row++) {
      for (let column = 0; column < insert.columns; column++) {
        this.place(block.entities, compose(insertMap(insert, block, column, row), map), layer);
      }
    }
    const copies = insert.rows * insert.columns;
    for (const s of block.skipped) {
      this.skipped.add(s.kind, s.layer === '0' ? layer : s.layer, s.reason, s.handle, s.position, s.count * copies);
    }
  }

  private reasonToSkip(layer: string): string | null {
    const key = nameKey(layer);
    return this.hidden.get(key) ?? (this.chosen === null || this.chosen.has(key) ? null : 'lies on a layer not chosen');
  }

  private skip(entity: DxfEntity, layer: string, reason: string): void {
    this.skipped.add(KIND_WORD[entity.kind], layer, reason, entity.handle, entity.position);
  }
}

/** Counts what the inserts add up to before anything is expanded; each block is counted once. */
function tooMany(drawing: DxfDrawing, blocks: ReadonlyMap<string, DxfBlock>): Problem | null {
  const sizes = new Map<DxfBlock, number>();
  const sizeOf = (insert: DxfInsert): number => {
    const block = blocks.get(nameKey(insert.block));
    if (block === undefined || block.isExternal) return 1;
    let size = sizes.get(block);
    if (size === undefined) {
      size = 1;
      for (const entity of block.entities) size += entity.kind === 'insert' ? sizeOf(entity) : pieceCount(entity);
      sizes.set(block, size);
    }
    return size * insert.rows * insert.columns;
  };
  let total = 0;
  for (const entity of drawing.entities) {
    if (entity.kind !== 'insert') continue;
    total += sizeOf(entity);
    if (total <= MOST_PLACED_PIECES) continue;
    const count = total < 1e15 ? total.toLocaleString('en') : total.toExponential(1);
    return problem({
      code: 'DXF-TOO-MANY-COPIES',
      severity: 'stop',
      what: `Placing its blocks would give ${count} pieces by the INSERT of "${entity.block}" on layer ${entity.layer}; at most ${MOST_PLACED_PIECES.toLocaleString('en')} can be handled`,
      fix: 'Place fewer copies: one part is enough to plan its cut',
      at: {
        ...(drawing.fileName === null ? {} : { file: drawing.fileName }),
        layer: entity.layer,
        ...(entity.handle === null ? {} : { handle: entity.handle }),
      },
    });
  }
  return null;
}

function pieceCount(entity: Exclude<DxfEntity, DxfInsert>): number {
  switch (entity.kind) {
    case 'polyline':
      return entity.vertices.length;
    case 'spline':
      return entity.controlPoints.length;
    case 'fit-spline':
      return entity.points.length;
    default:
      return 1;
  }
}
