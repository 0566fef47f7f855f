/** Keeps the newest results by key; the one used longest ago goes first. */
export class Kept<T> {
  private readonly entries = new Map<string, T>();

  /** `most`: how many are kept. */
  constructor(private readonly most: number) {}

  /** What is kept under the key; undefined when nothing is. */
  peek(key: string): T | undefined {
    return this.entries.get(key);
  }

  /** What is kept under the key, or made now and kept. Nothing is kept when making fails. */
  get(key: string, make: () => T): T {
    const known = this.entries.get(key);
    const value = known ?? make();
    this.entries.delete(key);
    this.entries.set(key, value);
    if (this.entries.size > this.most) {
      for (const oldest of this.entries.keys()) {
        this.entries.delete(oldest);
        break;
      }
    }
    return value;
  }
}
