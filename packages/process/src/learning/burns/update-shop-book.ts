import { type Problem, problem, type Result } from '@gapwright/base';
import { findMaterial, findWireMachine } from '../../find.js';
import { nextVersion } from '../../next-version.js';
import { parseShopBook } from '../../parse-shop-book.js';
import { type RawShopBook, shopBookSchema } from '../../shop-book-schema.js';
import type { BurnBook } from './burn-book.js';
import type { Effect } from './burn-filter.js';
import { burnSourceId } from './burn-source.js';

/** A new version of a shop book file, and what has changed in it. */
export interface UpdatedBook {
  readonly json: RawShopBook;
  readonly fromVersion: string;
  readonly toVersion: string;
  readonly changes: readonly {
    readonly field: string;
    readonly from: number;
    readonly to: number;
    readonly logSd: number;
    readonly burns: number;
  }[];
}

/** Doubt of a learnt factor is never stated as smaller than this; the log does not know next year's material. */
const LEAST_LOG_SD = 0.01;
/** Factors are written with this many digits. */
const DIGITS = 4;

/**
 * Writes what the burns taught into a copy of the book: material and machine rate factors and level rates. A burn that took
 * longer lowers the rate. What all burns share goes to the machines. Effects of wire and height band have no place in the book
 * and stay out. The book given in is not changed, so old plans keep theirs.
 */
export function updateShopBook(bookJson: unknown, learnt: BurnBook, between: string): Result<UpdatedBook> {
  const { value: book, problems: found } = parseShopBook(bookJson);
  if (book === null) return { value: null, problems: found };
  const problems: Problem[] = [];
  const json = shopBookSchema.parse(structuredClone(bookJson));
  const fromVersion = json.version;
  const toVersion = nextVersion(fromVersion);
  const source = burnSourceId(toVersion);
  json.version = toVersion;
  json.sources = json.sources.filter((s) => s.id !== source);
  json.sources.push({
    id: source,
    title: `Burn log, ${learnt.burns} burns`,
    standing: 'shop',
    where: `${between}; learnt on book version ${fromVersion}`,
  });
  const changes: UpdatedBook['changes'][number][] = [];
  const change = (field: string, quantity: Quantity, factor: number, effect: Effect, note: string): void => {
    const from = quantity.value;
    quantity.value = Number((from * factor).toPrecision(DIGITS));
    quantity.logSd = Number(Math.max(LEAST_LOG_SD, Math.min(1.5, effect.sd)).toPrecision(2));
    quantity.source = source;
    quantity.note = note;
    changes.push({ field, from, to: quantity.value, logSd: quantity.logSd, burns: effect.burns });
  };
  const byMaterial = new Map<string, Effect>();
  for (const effect of learnt.effects().filter((e) => e.kind === 'material')) {
    const material = findMaterial(book, effect.name);
    if (material === undefined) problems.push(unknownName('material', effect));
    else if (!byMaterial.has(material.id)) byMaterial.set(material.id, effect);
  }
  // All material factors are relative to the reference material: what it was wrong by belongs to the machines.
  const reference = byMaterial.get(json.rules.referenceMaterialId)?.mean ?? 0;
  for (const material of json.materials) {
    const effect = byMaterial.get(material.id);
    // What cannot be burned has a placeholder for a rate; it stays.
    if (!material.isConductive) continue;
    if (material.id === json.rules.referenceMaterialId || (effect === undefined && reference === 0)) continue;
    const shift = (effect?.mean ?? 0) - reference;
    const seen = effect ?? { ...learnt.effect('material', material.id), sd: material.wireRateFactor.logSd ?? 0 };
    const note = effect === undefined ? 'moved with the reference material' : `${effect.burns} burns`;
    change(`materials.${material.id}.wireRateFactor`, material.wireRateFactor, Math.exp(-shift), seen, note);
  }
  const common = learnt.effect('common', 'all burns').mean + reference;
  const byMachine = new Map<string, Effect>();
  for (const effect of learnt.effects().filter((e) => e.kind === 'machine')) {
    const machine = findWireMachine(book, effect.name);
    if (machine === undefined) problems.push(unknownName('machine', effect));
    else byMachine.set(machine.id, effect);
  }
  for (const machine of json.wireMachines) {
    const effect = byMachine.get(machine.id);
    const note = effect === undefined ? 'moved by what all burns share' : `${effect.burns} burns`;
    const seen = effect ?? learnt.effect('machine', machine.id);
    change(`wireMachines.${machine.id}.rateFactor`, machine.rateFactor, Math.exp(-seen.mean - common), seen, note);
  }
  for (const effect of learnt.effects().filter((e) => e.kind === 'level')) {
    const level = json.wireLevels.find((l) => String(l.level) === effect.name || l.name === effect.name);
    if (level === undefined) {
      problems.push(unknownName('level', effect));
      continue;
    }
    const field = level.areaRateMm2PerMin === null ? 'feedMmPerMin' : 'areaRateMm2PerMin';
    const quantity = level[field];
    if (quantity === null) continue;
    change(`wireLevels.${level.level}.${field}`, quantity, Math.exp(-effect.mean), effect, `${effect.burns} burns`);
  }
  const check = parseShopBook(json);
  if (check.value === null) return { value: null, problems: [...problems, ...check.problems] };
  return { value: { json, fromVersion, toVersion, changes }, problems };
}

interface Quantity {
  value: number;
  source: string;
  logSd?: number | undefined;
  note?: string | undefined;
}

function unknownName(what: string, { name, burns }: Effect): Problem {
  return problem({
    code: 'LEARN-NOT-IN-BOOK',
    severity: 'warn',
    what: `The book has no ${what} "${name}"; its ${burns} burns change nothing there`,
    fix: `Add the ${what} to the book or correct its name in the log`,
  });
}
