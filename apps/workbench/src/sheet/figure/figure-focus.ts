/** One figure that is open in the margin. Ids are unique in the whole answer. */
export interface OpenRef {
  readonly id: string;
  /** What the figure is called where it was opened. */
  readonly label: string;
}

/** The figures opened one from the other; the last one is shown. */
export type Trail = readonly OpenRef[];

/** The trail after an input of the shown figure was opened; a figure that is on the trail already is gone back to. */
export function stepInto(trail: Trail, ref: OpenRef): Trail {
  const at = trail.findIndex((t) => t.id === ref.id);
  return at >= 0 ? trail.slice(0, at + 1) : [...trail, ref];
}

/** Which figure has its working in the margin. Kept outside React's state so that opening one does not draw the sheet anew. */
export class FigureFocus {
  private trail: Trail = [];
  private readonly listeners = new Set<() => void>();

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly current = (): Trail => this.trail;

  open(ref: OpenRef): void {
    const only = this.trail.length === 1 ? this.trail[0] : undefined;
    if (only?.id === ref.id && only.label === ref.label) return;
    this.set([ref]);
  }

  into(ref: OpenRef): void {
    this.set(stepInto(this.trail, ref));
  }

  backTo(index: number): void {
    this.set(this.trail.slice(0, index + 1));
  }

  close(): void {
    if (this.trail.length > 0) this.set([]);
  }

  private set(trail: Trail): void {
    this.trail = trail;
    for (const listener of this.listeners) listener();
  }
}
