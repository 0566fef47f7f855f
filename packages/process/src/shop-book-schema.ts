import { z } from 'zod';
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

/** Longest text field, in characters; a longer one is not a name. */
const MAX_TEXT = 500;
/** Most entries of any list; far above any real shop. */
const MAX_ENTRIES = 2000;
/** Log standard deviation 1.5 means "somewhere within a factor of seven"; more is no knowledge at all. */
const MAX_LOG_SD = 1.5;

const text = z.string().min(1).max(MAX_TEXT);
const id = z
  .string()
  .regex(
    /^[A-Za-z0-9][A-Za-z0-9 .+-]{0,39}$/,
    'expected an id of letters, digits, spaces, dots, + or -, at most 40 characters',
  );
const positiveMm = z.number().positive().max(20_000);

/** A number as it stands in the file: the value, where it comes from and how far it may be off. */
function quantity(kind: QuantityKind) {
  return z.strictObject({
    value: z.number().min(kind.range[0]).max(kind.range[1]),
    source: text,
    /** Log standard deviation; left out or 0 means exact. */
    logSd: z.number().min(0).max(MAX_LOG_SD).optional(),
    note: text.optional(),
  });
}

export type RawQuantity = z.infer<ReturnType<typeof quantity>>;
type QuantitySchema = ReturnType<typeof quantity>;

function quantities<K extends string>(kinds: Readonly<Record<K, QuantityKind>>): Record<K, QuantitySchema> {
  const shape = {} as Record<K, QuantitySchema>;
  for (const name of Object.keys(kinds) as K[]) shape[name] = quantity(kinds[name]);
  return shape;
}

function optionalQuantities<K extends string>(
  kinds: Readonly<Record<K, QuantityKind>>,
): Record<K, z.ZodNullable<QuantitySchema>> {
  const shape = {} as Record<K, z.ZodNullable<QuantitySchema>>;
  for (const name of Object.keys(kinds) as K[]) shape[name] = quantity(kinds[name]).nullable();
  return shape;
}

const source = z.strictObject({
  id: text,
  title: text,
  standing: z.enum(['published', 'from memory', 'common practice', 'computed', 'shop', 'job']),
  where: text.optional(),
});

const material = z.strictObject({
  id,
  name: text,
  aliases: z.array(text).max(50),
  family: z.enum([
    'tool steel',
    'carbon steel',
    'stainless steel',
    'titanium',
    'nickel alloy',
    'cobalt alloy',
    'aluminium',
    'copper alloy',
    'carbide',
    'graphite',
    'refractory metal',
    'ceramic',
  ]),
  isConductive: z.boolean(),
  ...quantities(MATERIAL_QUANTITIES),
  ...optionalQuantities(MATERIAL_OPTIONAL_QUANTITIES),
  cautions: z.array(text).max(50),
});

const wire = z.strictObject({
  id,
  name: text,
  kind: z.enum(['brass', 'coated brass', 'molybdenum', 'tungsten']),
  diameterMm: z.number().min(0.01).max(0.5),
  diameterSource: text,
  ...quantities(WIRE_QUANTITIES),
});

const wireMachine = z.strictObject({
  id,
  name: text,
  travelXMm: positiveMm,
  travelYMm: positiveMm,
  maxHeightMm: positiveMm,
  maxMassKg: z.number().positive().max(100_000),
  wireIds: z.array(id).min(1).max(50),
  guideClearanceMm: z.number().min(0).max(200),
  guideToWorkMm: z.number().min(0).max(200),
  autoThread: z.boolean(),
  ...quantities(WIRE_MACHINE_QUANTITIES),
});

const drillMachine = z.strictObject({
  id,
  name: text,
  travelXMm: positiveMm,
  travelYMm: positiveMm,
  maxDepthMm: positiveMm,
  holeSizesMm: z.array(z.number().min(0.1).max(6)).min(1).max(100),
  ...quantities(DRILL_MACHINE_QUANTITIES),
});

const wireLevel = z.strictObject({
  level: z.int().min(1).max(20),
  name: text,
  ...quantities(LEVEL_QUANTITIES),
  ...optionalQuantities(LEVEL_OPTIONAL_QUANTITIES),
});

/** The shop book file, before its sources, ids and order are checked against each other. */
export const shopBookSchema = z.strictObject({
  version: text,
  name: text,
  notice: text,
  currency: z.literal('EUR'),
  sources: z.array(source).min(1).max(MAX_ENTRIES),
  materials: z.array(material).min(1).max(MAX_ENTRIES),
  wires: z.array(wire).min(1).max(MAX_ENTRIES),
  wireMachines: z.array(wireMachine).min(1).max(MAX_ENTRIES),
  drillMachines: z.array(drillMachine).max(MAX_ENTRIES),
  wireLevels: z.array(wireLevel).min(1).max(20),
  thicknessFactors: z
    .array(z.strictObject(quantities(THICKNESS_QUANTITIES)))
    .min(2)
    .max(100),
  startHoleSizesMm: z.array(z.number().min(0.1).max(6)).min(1).max(100),
  rules: z.strictObject({ referenceMaterialId: id, ...quantities(RULE_QUANTITIES) }),
  rates: z.strictObject({
    ...quantities(RATE_QUANTITIES),
    materialPricePerKg: z.record(id, quantity(MATERIAL_PRICE)),
  }),
});

/** The shop book as it stands in the file. */
export type RawShopBook = z.infer<typeof shopBookSchema>;
