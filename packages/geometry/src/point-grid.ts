/** Points hashed by square cells for finding neighbours within one fixed distance. Coordinates in mm. */
export class PointGrid {
  private readonly heads: Int32Array;
  private readonly next: Int32Array;
  private readonly mask: number;
  /** Buckets already visited by the query at hand. */
  private readonly seen = new Int32Array(9);

  constructor(
    private readonly x: Float64Array,
    private readonly y: Float64Array,
    private readonly cellMm: number,
  ) {
    let size = 16;
    while (size < 2 * x.length) size *= 2;
    this.mask = size - 1;
    this.heads = new Int32Array(size).fill(-1);
    this.next = new Int32Array(x.length).fill(-1);
    for (let i = x.length - 1; i >= 0; i--) {
      const h = this.hash(Math.floor(x[i]! / cellMm), Math.floor(y[i]! / cellMm));
      this.next[i] = this.heads[h]!;
      this.heads[h] = i;
    }
  }

  private hash(column: number, row: number): number {
    // Cells beyond 32 bits wrap; a shared bucket costs time, never a wrong answer, as distances are compared.
    // Cell numbers of drawings are multiples of round numbers, so high bits are folded down before masking.
    let h = Math.imul(column | 0, 73856093) ^ Math.imul(row | 0, 19349663);
    h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
    return (h ^ (h >>> 13)) & this.mask;
  }

  /** Calls `found` for every point within one cell size of (px, py), each once, with its squared distance. */
  near(px: number, py: number, found: (index: number, squaredMm: number) => void): void {
    const reach = this.cellMm;
    const squaredReach = reach * reach;
    const column = Math.floor(px / reach);
    const row = Math.floor(py / reach);
    const { seen } = this;
    let count = 0;
    for (let c = column - 1; c <= column + 1; c++) {
      for (let r = row - 1; r <= row + 1; r++) {
        const h = this.hash(c, r);
        // Two of the nine cells may share a bucket.
        let isSeen = false;
        for (let k = 0; k < count; k++) if (seen[k] === h) isSeen = true;
        if (isSeen) continue;
        seen[count++] = h;
        for (let i = this.heads[h]!; i >= 0; i = this.next[i]!) {
          const dx = this.x[i]! - px;
          const dy = this.y[i]! - py;
          const squared = dx * dx + dy * dy;
          if (squared <= squaredReach) found(i, squared);
        }
      }
    }
  }
}
