import type { DrillMachine, Material, ShopBook, Wire, WireLevel, WireMachine } from './shop-book.js';

/** Finds a material by id or alias, without regard to case, blanks, dots and hyphens; undefined when the book has none. */
export function findMaterial(book: ShopBook, name: string): Material | undefined {
  const wanted = plain(name);
  if (wanted === '') return undefined;
  return (
    book.materials.find((m) => m.id === name) ??
    book.materials.find((m) => plain(m.id) === wanted) ??
    book.materials.find((m) => m.aliases.some((alias) => plain(alias) === wanted))
  );
}

/** Ids are compared as people write them: `Ti-6Al-4V`, `ti6al4v` and `Ti 6Al 4V` are one material. */
function plain(name: string): string {
  return name.toLowerCase().replace(/[\s._-]/g, '');
}

/** Finds a wire by id, without regard to case. */
export function findWire(book: ShopBook, id: string): Wire | undefined {
  return byId(book.wires, id);
}

/** Finds a wire machine by id, without regard to case. */
export function findWireMachine(book: ShopBook, id: string): WireMachine | undefined {
  return byId(book.wireMachines, id);
}

/** Finds a drilling machine by id, without regard to case. */
export function findDrillMachine(book: ShopBook, id: string): DrillMachine | undefined {
  return byId(book.drillMachines, id);
}

/** The wire levels from rough to finest. */
export function levelsOf(book: ShopBook): readonly WireLevel[] {
  return book.wireLevels;
}

function byId<T extends { readonly id: string }>(list: readonly T[], id: string): T | undefined {
  const wanted = id.toLowerCase();
  return list.find((entry) => entry.id.toLowerCase() === wanted);
}
