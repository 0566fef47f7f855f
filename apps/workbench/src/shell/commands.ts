import { useEffect, useRef, useSyncExternalStore } from 'react';

/** Something the planner can do, named so that the finder and the help can list it. */
export interface Command {
  /** Stable, e.g. `desk.new`. */
  readonly id: string;
  /** What it does, as a plain phrase: `Start an enquiry from a file`. */
  readonly label: string;
  /** `Mod+Z`, `?`, or a sequence such as `g d`. Keys of a plain sign never act inside a text box. */
  readonly keys?: string;
  /** The heading it stands under in help; the place's name when left out. */
  readonly group?: string;
  /** False while it has nothing to act on; it is then listed as not possible now. Default true. */
  readonly isPossible?: boolean;
  /** Keys with Mod act inside text boxes too; off by default, so that a box keeps its own undo. */
  readonly alsoInText?: boolean;
  readonly run: () => void;
}

/** Something the finder can go to: a figure, a section, a job. */
export interface Findable {
  readonly id: string;
  readonly label: string;
  /** A second line: the figure's value, the customer. */
  readonly says?: string;
  /** More words it is found by. */
  readonly words?: string;
  readonly run: () => void;
}

interface Listed {
  readonly commands: readonly Command[];
  readonly findables: readonly { readonly group: string; readonly items: readonly Findable[] }[];
}

/** Everything that places register, for the finder, the help and the keys. */
class Registry {
  private readonly commandLists = new Map<object, readonly Command[]>();
  private readonly findableLists = new Map<object, { readonly group: string; readonly items: readonly Findable[] }>();
  private readonly listeners = new Set<() => void>();
  private listed: Listed = { commands: [], findables: [] };

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly get = (): Listed => this.listed;

  setCommands(owner: object, list: readonly Command[] | null): void {
    if (list === null) this.commandLists.delete(owner);
    else this.commandLists.set(owner, list);
    this.tell();
  }

  setFindables(owner: object, group: string, items: readonly Findable[] | null): void {
    if (items === null) this.findableLists.delete(owner);
    else this.findableLists.set(owner, { group, items });
    this.tell();
  }

  private tell(): void {
    this.listed = { commands: [...this.commandLists.values()].flat(), findables: [...this.findableLists.values()] };
    for (const listener of this.listeners) listener();
  }
}

const registry = new Registry();

/** Everything about a command but what it runs: when this changes, lists are drawn again. */
function face(list: readonly Command[]): string {
  return JSON.stringify(list.map((c) => [c.id, c.label, c.keys, c.group, c.isPossible ?? true, c.alsoInText ?? false]));
}

/** Registers commands for as long as the component is on screen. `run` may change on every render. */
export function useCommands(list: readonly Command[]): void {
  const latest = useRef(list);
  latest.current = list;
  const shown = face(list);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `shown` stands for everything visible of the list; the newest `run` is read when it is called.
  useEffect(() => {
    const owner = {};
    const stable = latest.current.map((command) => ({
      ...command,
      run: () => latest.current.find((c) => c.id === command.id)?.run(),
    }));
    registry.setCommands(owner, stable);
    return () => registry.setCommands(owner, null);
  }, [shown]);
}

/** Registers things the finder can go to, under one heading, for as long as the component is on screen. Keep `items` stable (useMemo). */
export function useFindables(group: string, items: readonly Findable[]): void {
  useEffect(() => {
    const owner = {};
    registry.setFindables(owner, group, items);
    return () => registry.setFindables(owner, group, null);
  }, [group, items]);
}

export function useAllCommands(): readonly Command[] {
  return useSyncExternalStore(registry.subscribe, registry.get).commands;
}

export function useAllFindables(): Listed['findables'] {
  return useSyncExternalStore(registry.subscribe, registry.get).findables;
}

/** The commands of this moment, for handlers outside of drawing. */
export function commandsNow(): readonly Command[] {
  return registry.get().commands;
}
