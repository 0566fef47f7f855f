import type { Point } from '@gapwright/geometry';

/** A label that wants a place. */
export interface LabelWish {
  readonly key: string;
  readonly text: string;
  /** The point it belongs to, screen pixels. */
  readonly at: Point;
  /** Room its own symbol takes around the point, pixels. */
  readonly clearPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Higher goes first; equal ones in the order given. */
  readonly rank: number;
}

/** A label with its place: left and top edge, screen pixels. */
export interface PlacedLabel {
  readonly wish: LabelWish;
  readonly left: number;
  readonly top: number;
}

/** Labels that found no room near each other. */
export interface LabelCrowd {
  readonly at: Point;
  readonly count: number;
}

export interface Placement {
  readonly placed: readonly PlacedLabel[];
  readonly crowds: readonly LabelCrowd[];
  readonly dropped: number;
}

interface Rect {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Where a label is tried around its point, best first: as directions (x right, y down). */
const SIDES = [
  [1, 0],
  [1, -1],
  [1, 1],
  [-1, 0],
  [-1, -1],
  [-1, 1],
  [0, -1],
  [0, 1],
] as const;
/** Free room between two labels, pixels. */
const APART_PX = 3;
/** Cell of the grid that finds neighbours, and of the grid dropped labels are counted in, pixels. */
const CELL_PX = 64;
const CROWD_PX = 120;

/** Finds places where no two labels overlap; drops what does not fit and says how many, where. */
export function placeLabels(wishes: readonly LabelWish[]): Placement {
  const taken = new RectGrid();
  const order = wishes
    .map((wish, index) => ({ wish, index }))
    .sort((a, b) => b.wish.rank - a.wish.rank || a.index - b.index);
  const placed: PlacedLabel[] = [];
  const crowds = new Map<string, { x: number; y: number; count: number }>();
  let dropped = 0;
  for (const { wish } of order) {
    const spot = freeSpot(wish, taken);
    if (spot !== null) {
      taken.add(spot);
      placed.push({ wish, left: spot.left, top: spot.top });
      continue;
    }
    dropped++;
    const key = `${Math.floor(wish.at.x / CROWD_PX)},${Math.floor(wish.at.y / CROWD_PX)}`;
    const crowd = crowds.get(key) ?? { x: 0, y: 0, count: 0 };
    crowds.set(key, { x: crowd.x + wish.at.x, y: crowd.y + wish.at.y, count: crowd.count + 1 });
  }
  return {
    placed,
    crowds: [...crowds.values()].map((c) => ({ at: { x: c.x / c.count, y: c.y / c.count }, count: c.count })),
    dropped,
  };
}

function freeSpot(wish: LabelWish, taken: RectGrid): Rect | null {
  for (const [sideX, sideY] of SIDES) {
    const reach = wish.clearPx + 2;
    const left =
      sideX === 0 ? wish.at.x - wish.widthPx / 2 : sideX > 0 ? wish.at.x + reach : wish.at.x - reach - wish.widthPx;
    const top =
      sideY === 0 ? wish.at.y - wish.heightPx / 2 : sideY > 0 ? wish.at.y + reach : wish.at.y - reach - wish.heightPx;
    const rect = { left, top, right: left + wish.widthPx, bottom: top + wish.heightPx };
    if (!taken.meets(rect)) return rect;
  }
  return null;
}

/** Rectangles filed by grid cell. */
class RectGrid {
  private readonly cells = new Map<string, Rect[]>();

  add(rect: Rect): void {
    for (const key of this.keys(rect)) {
      const cell = this.cells.get(key);
      if (cell === undefined) this.cells.set(key, [rect]);
      else cell.push(rect);
    }
  }

  meets(rect: Rect): boolean {
    for (const key of this.keys(rect)) {
      for (const other of this.cells.get(key) ?? []) {
        const isApart =
          rect.right + APART_PX <= other.left ||
          other.right + APART_PX <= rect.left ||
          rect.bottom + APART_PX <= other.top ||
          other.bottom + APART_PX <= rect.top;
        if (!isApart) return true;
      }
    }
    return false;
  }

  private *keys(rect: Rect): Generator<string> {
    // Half the free room more on every side, so that near neighbours share a cell.
    const reach = APART_PX;
    for (let x = Math.floor((rect.left - reach) / CELL_PX); x <= Math.floor((rect.right + reach) / CELL_PX); x++) {
      for (let y = Math.floor((rect.top - reach) / CELL_PX); y <= Math.floor((rect.bottom + reach) / CELL_PX); y++) {
        yield `${x},${y}`;
      }
    }
  }
}
