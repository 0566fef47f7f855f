import { readFileSync } from 'node:fs';
import { parsePost } from '../parse-post.js';
import type { PostDefinition } from '../post-definition.js';

const loose = {
  decimals: 4,
  leadingZero: false,
  trailingZeros: false,
  plusSign: false,
  decimalPoint: 'when needed',
} as const;

type PassedOver = PostDefinition['reading']['passedOver'][number];
const pass = (scope: PassedOver['scope'], why: string, ...words: string[]): PassedOver[] =>
  words.map((word) => ({ word, scope, why }));

/** What a plane view of a milling program may pass over, each word declared. */
const MILLING_WORDS: PassedOver[] = [
  ...pass('word', 'height; only the plane is read', 'Z'),
  ...pass('word', 'tool, spindle and coolant', 'T', 'S', 'H', 'M3', 'M5', 'M6', 'M8', 'M9', 'M29'),
  ...pass('word', 'program name', 'O'),
  ...pass(
    'word',
    'tool length, work offset, cycle return level, feed mode',
    'G43',
    'G49',
    'G54',
    'G58',
    'G80',
    'G94',
    'G98',
    'G99',
  ),
  ...pass('block', 'machine position, offset table, look-ahead', 'G28', 'G53', 'G10', 'G8'),
  ...pass('mode', 'drilling cycles', 'G81', 'G83', 'G84', 'G85'),
];

/** A definition for tests only: reads the plane geometry of the public milling programs in `fixtures/gcode`. */
export function millingPost(
  unit: 'mm' | 'inch',
  change: { readonly position?: { x: number; y: number } } = {},
): PostDefinition {
  const { value, problems } = parsePost({
    id: `milling-${unit}`,
    title: 'Plane view of milling programs, for tests',
    lineEnd: 'LF',
    tapeMarks: true,
    spaceBetweenWords: true,
    blockNumbers: { letter: 'N', start: 10, step: 10, onComments: false },
    comments: { style: 'parentheses', longest: 200, nameCuts: false, replace: {} },
    header: [unit === 'inch' ? 'G17 G20 G90' : 'G17 G21 G90'],
    footer: [],
    unit,
    distance: 'absolute',
    words: {
      rapid: 'G0',
      line: 'G1',
      arcClockwise: 'G2',
      arcCounterClockwise: 'G3',
      planeXY: 'G17',
      inch: 'G20',
      millimetre: 'G21',
      absolute: 'G90',
      incremental: 'G91',
      compensationOff: 'G40',
      compensationLeft: 'G41',
      compensationRight: 'G42',
    },
    letters: { x: 'X', y: 'Y', centreX: 'I', centreY: 'J', radius: 'R', feed: 'F', register: 'D' },
    numbers: { coordinate: loose, feed: loose, offset: loose },
    arcs: {
      centre: 'from start',
      bothCentreWords: false,
      fullCircles: true,
      // Half a thousandth of an inch in four-decimal inch programs: two roundings of each of two coordinates.
      radiusToleranceMm: 0.01,
      largestRadiusMm: 20000,
    },
    repeat: { motionWord: false, coordinates: false, feed: false },
    functions: {
      setRegister: { block: 'G110 P{register} R{offset}' },
      selectLevel: { block: 'E{level}' },
      threadWire: { block: 'M150' },
      cutWire: { block: 'M151' },
      fluidOn: { block: 'M152' },
      fluidOff: { block: 'M153' },
      stop: { block: 'M0' },
      optionalStop: { block: 'M1' },
      end: { block: unit === 'inch' ? 'M30' : 'M2' },
    },
    initial: { unit: null, distance: 'absolute', position: change.position ?? null },
    reading: {
      lowerCase: true,
      spacesInsideWords: true,
      expressions: true,
      registersSetOutside: true,
      passedOver: MILLING_WORDS,
    },
  });
  if (value === null) throw new Error(problems.map((p) => p.message).join('\n'));
  return value;
}

/** A file of `fixtures/gcode`; old comments hold single-byte characters. */
export function gcodeFixture(name: string): string {
  return readFileSync(new URL(`../../../../fixtures/gcode/${name}`, import.meta.url), 'latin1');
}
