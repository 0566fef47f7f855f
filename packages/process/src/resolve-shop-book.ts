import { BugError, type Figure, given, type Source } from '@gapwright/base';
import {
  DRILL_MACHINE_QUANTITIES,
  LEVEL_OPTIONAL_QUANTITIES,
  LEVEL_QUANTITIES,
  MATERIAL_OPTIONAL_QUANTITIES,
  MATERIAL_PRICE,
  MATERIAL_QUANTITIES,
  type QuantityKind,
  RATE_QUANTITIES,
  RULE_QUANTITIES,
  THICKNESS_QUANTITIES,
  WIRE_MACHINE_QUANTITIES,
  WIRE_QUANTITIES,
} from './book-quantities.js';
import type { ShopBook, ShopRates, WireLevel } from './shop-book.js';
import type { RawQuantity, RawShopBook } from './shop-book-schema.js';

/** Factors whose doubt is "how this material burns", not "what the handbook says". */
const BURN_FACTORS: ReadonlySet<string> = new Set([
  'wireRateFactor',
  'raFactor',
  'drillFeedMmPerMin',
  'drillWearRatio',
]);

/** Turns a checked book into figures. Each doubt is booked under the thing it belongs to, so that it moves as one. */
export function resolveShopBook(raw: RawShopBook): ShopBook {
  const sources = new Map<string, Source>(
    raw.sources.map((s) => [
      s.id,
      Object.freeze({
        id: s.id,
        title: s.title,
        standing: s.standing,
        ...(s.where === undefined ? {} : { where: s.where }),
      }),
    ]),
  );
  const sourceOf = (id: string): Source => {
    const source = sources.get(id);
    if (source === undefined) throw new BugError(`shop book source "${id}" was not checked`);
    return source;
  };
  const figure = (q: RawQuantity, kind: QuantityKind, about: string, cause: string): Figure => {
    const says = `${kind.says}${about}${q.note === undefined ? '' : ` (${q.note})`}`;
    return given(q.value, kind.unit, says, sourceOf(q.source), { relative: q.logSd ?? 0, cause });
  };
  const figures = <K extends string>(
    kinds: Readonly<Record<K, QuantityKind>>,
    values: Readonly<Record<NoInfer<K>, RawQuantity>>,
    about: string,
    causeOf: (name: NoInfer<K>) => string,
  ): Record<K, Figure> => {
    const out = {} as Record<K, Figure>;
    for (const name of Object.keys(kinds) as K[]) out[name] = figure(values[name], kinds[name], about, causeOf(name));
    return out;
  };
  const optional = <K extends string>(
    kinds: Readonly<Record<K, QuantityKind>>,
    values: Readonly<Record<NoInfer<K>, RawQuantity | null>>,
    about: string,
    causeOf: (name: NoInfer<K>) => string,
  ): Record<K, Figure | null> => {
    const out = {} as Record<K, Figure | null>;
    for (const name of Object.keys(kinds) as K[]) {
      const value = values[name];
      out[name] = value === null ? null : figure(value, kinds[name], about, causeOf(name));
    }
    return out;
  };

  const materials = raw.materials.map((m) => {
    const causeOf = (name: string): string => `${BURN_FACTORS.has(name) ? 'material' : 'material-property'}:${m.id}`;
    return Object.freeze({
      id: m.id,
      name: m.name,
      aliases: Object.freeze([...m.aliases]),
      family: m.family,
      isConductive: m.isConductive,
      ...figures(MATERIAL_QUANTITIES, m, ` of ${m.id}`, causeOf),
      ...optional(MATERIAL_OPTIONAL_QUANTITIES, m, `, ${m.id}`, causeOf),
      cautions: Object.freeze([...m.cautions]),
    });
  });
  const wires = raw.wires.map((w) =>
    Object.freeze({
      id: w.id,
      name: w.name,
      kind: w.kind,
      diameterMm: w.diameterMm,
      diameter: given(w.diameterMm, 'mm', `Diameter of wire ${w.id}`, sourceOf(w.diameterSource)),
      ...figures(WIRE_QUANTITIES, w, ` of wire ${w.id}`, () => `wire:${w.id}`),
    }),
  );
  const wireMachines = raw.wireMachines.map((m) => {
    const { id, name, travelXMm, travelYMm, maxHeightMm, maxMassKg, guideClearanceMm, guideToWorkMm, autoThread } = m;
    return Object.freeze({
      ...{ id, name, travelXMm, travelYMm, maxHeightMm, maxMassKg, guideClearanceMm, guideToWorkMm, autoThread },
      wireIds: Object.freeze([...m.wireIds]),
      ...figures(WIRE_MACHINE_QUANTITIES, m, `, ${name}`, (q) => `machine${q === 'rateFactor' ? '' : `-${q}`}:${id}`),
    });
  });
  const drillMachines = raw.drillMachines.map((m) =>
    Object.freeze({
      id: m.id,
      name: m.name,
      travelXMm: m.travelXMm,
      travelYMm: m.travelYMm,
      maxDepthMm: m.maxDepthMm,
      holeSizesMm: Object.freeze([...m.holeSizesMm]),
      ...figures(
        DRILL_MACHINE_QUANTITIES,
        m,
        `, ${m.name}`,
        (q) => `machine${q === 'feedFactor' ? '' : `-${q}`}:${m.id}`,
      ),
    }),
  );
  const wireLevels = raw.wireLevels.map((l): WireLevel => {
    const about = ` at level ${l.level} (${l.name}), reference conditions`;
    const causeOf = (name: string): string => `level-${name}:${l.level}`;
    return Object.freeze({
      level: l.level,
      name: l.name,
      ...figures(LEVEL_QUANTITIES, l, about, causeOf),
      ...optional(LEVEL_OPTIONAL_QUANTITIES, l, about, causeOf),
    });
  });
  const rates: ShopRates = {
    ...figures(RATE_QUANTITIES, raw.rates, '', (name) => `shop:${name}`),
    materialPricePerKg: Object.freeze(
      Object.fromEntries(
        Object.entries(raw.rates.materialPricePerKg).map(([id, q]) => [
          id,
          figure(q, MATERIAL_PRICE, ` of ${id}`, `price:${id}`),
        ]),
      ),
    ),
  };
  return Object.freeze({
    version: raw.version,
    name: raw.name,
    notice: raw.notice,
    currency: raw.currency,
    materials: Object.freeze(materials),
    wires: Object.freeze(wires),
    wireMachines: Object.freeze(wireMachines),
    drillMachines: Object.freeze(drillMachines),
    wireLevels: Object.freeze(wireLevels),
    thicknessFactors: Object.freeze(
      raw.thicknessFactors.map((p) =>
        Object.freeze(
          figures(THICKNESS_QUANTITIES, p, `, point at ${p.heightMm.value} mm`, () => 'thickness-factor:all'),
        ),
      ),
    ),
    startHoleSizesMm: Object.freeze([...raw.startHoleSizesMm]),
    rules: Object.freeze({
      referenceMaterialId: raw.rules.referenceMaterialId,
      ...figures(RULE_QUANTITIES, raw.rules, '', (name) => `rule:${name}`),
    }),
    rates: Object.freeze(rates),
  });
}
