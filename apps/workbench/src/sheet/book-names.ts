/** A thing of the shop book that a planner may choose. */
export interface NamedThing {
  readonly id: string;
  readonly name: string;
}

/** What the sheet needs to know of the shop book: what things are called. */
export interface BookNames {
  readonly materials: readonly NamedThing[];
  readonly wires: readonly NamedThing[];
  readonly machines: readonly NamedThing[];
  readonly currency: string;
}

function thingsOf(book: object, field: string): NamedThing[] {
  const list = (book as Readonly<Record<string, unknown>>)[field];
  if (!Array.isArray(list)) return [];
  return list.flatMap((thing: unknown) => {
    if (typeof thing !== 'object' || thing === null) return [];
    const { id, name } = thing as { id?: unknown; name?: unknown };
    return typeof id === 'string' ? [{ id, name: typeof name === 'string' ? name : id }] : [];
  });
}

/** Names out of a shop book's JSON. A book that cannot be read has none; the answer's problems say why. */
export function bookNames(json: unknown): BookNames {
  const book = typeof json === 'object' && json !== null ? json : {};
  const currency = (book as { currency?: unknown }).currency;
  return {
    materials: thingsOf(book, 'materials'),
    wires: thingsOf(book, 'wires'),
    machines: [...thingsOf(book, 'wireMachines'), ...thingsOf(book, 'drillMachines')],
    currency: typeof currency === 'string' ? currency : '',
  };
}

/** The name of a thing, or its id when the book has no name for it. */
export function nameOf(things: readonly NamedThing[], id: string): string {
  return things.find((t) => t.id === id)?.name ?? id;
}
