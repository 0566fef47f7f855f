/** Something about keeping the planner has to know, with what can be done about it. */
export interface Notice {
  readonly id: string;
  readonly says: string;
  readonly choices: readonly { readonly label: string; readonly choose: () => void }[];
}

/** Notices that hold now, the oldest first. */
export class NoticeBoard {
  #notices: readonly Notice[] = [];
  onChange: () => void = () => undefined;

  all = (): readonly Notice[] => this.#notices;

  /** Puts a notice up, in place of one with the same id. */
  put(notice: Notice): void {
    const index = this.#notices.findIndex((other) => other.id === notice.id);
    this.#notices = index < 0 ? [...this.#notices, notice] : this.#notices.with(index, notice);
    this.onChange();
  }

  remove(id: string): void {
    if (!this.#notices.some((notice) => notice.id === id)) return;
    this.#notices = this.#notices.filter((notice) => notice.id !== id);
    this.onChange();
  }
}
