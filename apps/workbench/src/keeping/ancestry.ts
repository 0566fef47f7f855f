import type { Revision } from '@gapwright/records';

/** What is known of a job's revisions, by id. */
export type Lineage = ReadonlyMap<string, Revision>;

/** A revision and everything it was made from, as far as this device knows. */
export function lineOf(id: string, known: Lineage): Set<string> {
  const line = new Set<string>();
  const open = [id];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (line.has(next)) continue;
    line.add(next);
    open.push(...(known.get(next)?.parents ?? []));
  }
  return line;
}

/** True when `id` is `of` or was made from it. */
export function isMadeFrom(id: string, of: string, known: Lineage): boolean {
  return lineOf(id, known).has(of);
}

/**
 * The newest revisions both were made from: none when they share nothing, two or more when both settled the same
 * conflict.
 */
export function commonBases(a: string, b: string, known: Lineage): string[] {
  const lineA = lineOf(a, known);
  const shared = [...lineOf(b, known)].filter((id) => lineA.has(id));
  const covered = new Set<string>();
  for (const id of shared) {
    for (const parent of known.get(id)?.parents ?? []) for (const older of lineOf(parent, known)) covered.add(older);
  }
  return shared.filter((id) => !covered.has(id) && known.has(id)).sort();
}
