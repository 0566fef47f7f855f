import { z } from 'zod';

/** A word with its number, such as `G01` or `M02`. */
const word = z.string().regex(/^[A-Z]\d+(\.\d+)?$/, 'a word is one capital letter and a number, such as G01');
/** One word, or several of the same meaning: the first is written, all are read. */
const words = z.union([word, z.array(word).min(1)]);
const letter = z.string().regex(/^[A-Z]$/, 'a letter from A to Z');
const block = z.string().min(1).max(200);

const numberFormat = z.strictObject({
  decimals: z.int().min(0).max(8),
  leadingZero: z.boolean(),
  trailingZeros: z.boolean(),
  plusSign: z.boolean(),
  decimalPoint: z.enum(['always', 'when needed']),
});

const auxiliary = z.strictObject({
  /** Words of one block, with `{register}`, `{offset}` or `{level}` in place of a number. */
  block,
  /** True while the shop has not yet put its control's word here; writing then says so. */
  placeholder: z.boolean().default(false),
  note: z.string().default(''),
});

const levelFunction = z.union([
  auxiliary,
  z.strictObject({
    /** One block for each level number. */
    levels: z.record(z.string().regex(/^\d+$/, 'a level number'), block),
    placeholder: z.boolean().default(false),
    note: z.string().default(''),
  }),
]);

/** The schema of a post definition; `docs/post-definition.md` describes every field. */
export const postSchema = z.strictObject({
  id: z.string().regex(/^[a-z0-9-]+$/),
  title: z.string().min(1),
  about: z.array(z.string()).default([]),
  lineEnd: z.enum(['LF', 'CRLF']),
  tapeMarks: z.boolean(),
  spaceBetweenWords: z.boolean(),
  blockNumbers: z
    .strictObject({ letter, start: z.int().min(0), step: z.int().min(1), onComments: z.boolean() })
    .nullable(),
  comments: z.strictObject({
    style: z.enum(['parentheses', 'semicolon']),
    longest: z.int().min(20).max(500),
    nameCuts: z.boolean(),
    replace: z.record(z.string().min(1).max(1), z.string()),
  }),
  header: z.array(block),
  footer: z.array(block),
  unit: z.enum(['mm', 'inch']),
  distance: z.enum(['absolute', 'incremental']),
  words: z.strictObject({
    rapid: words,
    line: words,
    arcClockwise: words,
    arcCounterClockwise: words,
    planeXY: words,
    inch: words,
    millimetre: words,
    absolute: words,
    incremental: words,
    compensationOff: words,
    compensationLeft: words,
    compensationRight: words,
  }),
  letters: z.strictObject({
    x: letter,
    y: letter,
    centreX: letter,
    centreY: letter,
    radius: letter.nullable(),
    feed: letter,
    register: letter,
  }),
  numbers: z.strictObject({ coordinate: numberFormat, feed: numberFormat, offset: numberFormat }),
  arcs: z.strictObject({
    centre: z.enum(['from start', 'absolute']),
    bothCentreWords: z.boolean(),
    fullCircles: z.boolean(),
    radiusToleranceMm: z.number().positive().max(1),
    largestRadiusMm: z.number().positive(),
  }),
  repeat: z.strictObject({ motionWord: z.boolean(), coordinates: z.boolean(), feed: z.boolean() }),
  functions: z.strictObject({
    setRegister: auxiliary,
    selectLevel: levelFunction,
    threadWire: auxiliary,
    cutWire: auxiliary,
    fluidOn: auxiliary,
    fluidOff: auxiliary,
    stop: auxiliary,
    optionalStop: auxiliary,
    end: auxiliary,
  }),
  initial: z
    .strictObject({
      unit: z.enum(['mm', 'inch']).nullable(),
      distance: z.enum(['absolute', 'incremental']).nullable(),
      position: z.strictObject({ x: z.number(), y: z.number() }).nullable(),
    })
    .default({ unit: null, distance: null, position: null }),
  reading: z
    .strictObject({
      lowerCase: z.boolean().default(false),
      spacesInsideWords: z.boolean().default(false),
      expressions: z.boolean().default(false),
      registersSetOutside: z.boolean().default(false),
      passedOver: z
        .array(
          z.strictObject({
            word: z.string().regex(/^[A-Z](\d+(\.\d+)?)?$/, 'a letter, or a letter with its number'),
            scope: z.enum(['word', 'block', 'mode']),
            why: z.string().min(1),
          }),
        )
        .default([]),
    })
    .prefault({}),
});

/** A checked post definition: plain data, the only thing writer and reader know about a control. */
export type PostDefinition = z.output<typeof postSchema>;
