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
  /** Free room it needs to every other label, pixels. */
  readonly apartPx: number;
  /** `around`: any of eight places beside its point; `beside`: to the right only (quick, for very many); `on`: on it first. */
  readonly places: 'around' | 'beside' | 'on';
}

/** A label with its place: left and top edge, screen pixels. */
export interface PlacedLabel {
  readonly wish: LabelWish;
  readonly left: number;
  readonly top: number;
}

/** Labels that found no room near each other, and where their number is written; left and top edge, screen pixels. */
export interface LabelCrowd {
  readonly left: number;
  readonly top: number;
  readonly count: number;
}

export interface Placement {
  readonly placed: readonly PlacedLabel[];
  readonly crowds: readonly LabelCrowd[];
  readonly dropped: number;
}

/** A rectangle, screen pixels. */
export interface Rect {
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
const SIDES_OF = { around: SIDES, beside: [SIDES[0]], on: [[0, 0], ...SIDES] } as const;
/** Cell of the grid that finds neighbours, and of the grid dropped labels are counted in, pixels. */
const CELL_PX = 64;
const CROWD_PX = 120;
/** Room for `+` and up to three figures, pixels. */
export const CROWD_WIDTH_PX = 30;
export const CROWD_HEIGHT_PX = 15;
/** The number stands this far beside its place when a name is there already. */
const CROWD_CLEAR_PX = 14;

/**
 * Finds places where no two labels overlap each other or an obstacle; drops what does not fit and says how many, and
 * where, except for those that are very many.
 */
export function placeLabels(wishes: readonly LabelWish[], obstacles: readonly Rect[] = []): Placement {
  const taken = new RectGrid();
  for (const obstacle of obstacles) taken.add(obstacle);
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
    if (wish.places === 'beside') continue;
    const key = `${Math.floor(wish.at.x / CROWD_PX)},${Math.floor(wish.at.y / CROWD_PX)}`;
    const crowd = crowds.get(key) ?? { x: 0, y: 0, count: 0 };
    crowds.set(key, { x: crowd.x + wish.at.x, y: crowd.y + wish.at.y, count: crowd.count + 1 });
  }
  const shown: LabelCrowd[] = [];
  for (const { x, y, count } of [...crowds.values()].sort((a, b) => b.count - a.count)) {
    const spot = freeSpot(
      {
        at: { x: x / count, y: y / count },
        clearPx: CROWD_CLEAR_PX,
        widthPx: CROWD_WIDTH_PX,
        heightPx: CROWD_HEIGHT_PX,
        apartPx: 0,
        places: 'on',
      },
      taken,
    );
    if (spot === null) continue;
    taken.add(spot);
    shown.push({ left: spot.left, top: spot.top, count });
  }
  return { placed, crowds: shown, dropped };
}

function freeSpot(wish: Omit<LabelWish, 'key' | 'text' | 'rank'>, taken: RectGrid): Rect | null {
  for (const [sideX, sideY] of SIDES_OF[wish.places]) {
    const reach = wish.clearPx + 2;
    const left =
      sideX === 0 ? wish.at.x - wish.widthPx / 2 : sideX > 0 ? wish.at.x + reach : wish.at.x - reach - wish.widthPx;
    const top =
      sideY === 0 ? wish.at.y - wish.heightPx / 2 : sideY > 0 ? wish.at.y + reach : wish.at.y - reach - wish.heightPx;
    const rect = { left, top, right: left + wish.widthPx, bottom: top + wish.heightPx };
    if (!taken.meets(rect, wish.apartPx)) return rect;
  }
  return null;
}

/** Rectangles filed by grid cell. */
class RectGrid {
  private readonly cells = new Map<number, Rect[]>();

  add(rect: Rect): void {
    for (let x = cellOf(rect.left); x <= cellOf(rect.right); x++) {
      for (let y = cellOf(rect.top); y <= cellOf(rect.bottom); y++) {
        const cell = this.cells.get(cellKey(x, y));
        if (cell === undefined) this.cells.set(cellKey(x, y), [rect]);
        else cell.push(rect);
      }
    }
  }

  meets(rect: Rect, apartPx: number): boolean {
    for (let x = cellOf(rect.left - apartPx); x <= cellOf(rect.right + apartPx); x++) {
      for (let y = cellOf(rect.top - apartPx); y <= cellOf(rect.bottom + apartPx); y++) {
        for (const other of this.cells.get(cellKey(x, y)) ?? []) {
          const isApart =
            rect.right + apartPx <= other.left ||
            other.right + apartPx <= rect.left ||
            rect.bottom + apartPx <= other.top ||
            other.bottom + apartPx <= rect.top;
          if (!isApart) return true;
        }
      }
    }
    return false;
  }
}

function cellOf(px: number): number {
  return Math.floor(px / CELL_PX);
}

/** One number per cell; labels lie within a few panes of the screen, far inside ±32,768 cells. */
function cellKey(x: number, y: number): number {
  return x * 65_536 + y;
}
