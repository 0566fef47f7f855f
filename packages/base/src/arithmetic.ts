import type { Figure, Unit } from './figure.js';
import { apply, defineLaw, type Law } from './law.js';
import { BugError } from './problem.js';
import { BY_DEFINITION } from './source.js';

const sums = new Map<Unit, Law>();

/** The law "the sum of its parts" in one unit. */
function sumLaw(unit: Unit): Law {
  const known = sums.get(unit);
  if (known !== undefined) return known;
  const law = defineLaw<string>({
    id: `sum-${unit}`,
    says: 'The sum of its parts.',
    formula: 'a + b + …',
    source: BY_DEFINITION,
    inputs: {},
    output: unit,
    variadic: true,
    evaluate: (parts) => {
      let total = 0;
      for (const name in parts) total += parts[name]!;
      return total;
    },
  });
  sums.set(unit, law);
  return law;
}

/**
 * Adds figures of one unit; the names of the parts become the lines of the working.
 * Throws a BugError when units differ or there is nothing to add.
 */
export function sumOf(parts: Readonly<Record<string, Figure>>): Figure {
  const names = Object.keys(parts);
  const first = parts[names[0] ?? ''];
  if (first === undefined) throw new BugError('sumOf needs at least one part');
  for (const name of names) {
    if (parts[name]!.unit !== first.unit) {
      throw new BugError(`sumOf: "${name}" is in ${parts[name]!.unit}, expected ${first.unit}`);
    }
  }
  return apply(sumLaw(first.unit), parts);
}
