import { readFileSync } from 'node:fs';
import { parsePost } from '../parse-post.js';
import type { PostDefinition } from '../post-definition.js';

function accepted(json: unknown): PostDefinition {
  const { value, problems } = parsePost(json);
  if (value === null) throw new Error(problems.map((p) => p.message).join('\n'));
  return value;
}

/** The shipped definition as plain JSON, for tests that change a field. */
export function isoJson(): Record<string, unknown> {
  return JSON.parse(readFileSync(new URL('../../../../shop/posts/iso-6983.json', import.meta.url), 'utf8'));
}

/** The shipped definition with some top-level fields replaced. */
export function isoWith(change: Record<string, unknown>): PostDefinition {
  return accepted({ ...isoJson(), ...change });
}

export const ISO = accepted(isoJson());

const bare = { decimals: 3, leadingZero: false, trailingZeros: true, plusSign: true, decimalPoint: 'always' } as const;

/** A second dialect that shares hardly a word with the shipped one: incremental, inch, no block numbers, other words. */
export const OTHER = accepted({
  id: 'other',
  title: 'Made up for tests',
  lineEnd: 'LF',
  tapeMarks: false,
  spaceBetweenWords: false,
  blockNumbers: null,
  comments: { style: 'semicolon', longest: 40, nameCuts: false, replace: { ';': ',', µ: 'u' } },
  header: ['G20', 'G91'],
  footer: ['G90'],
  unit: 'inch',
  distance: 'incremental',
  words: {
    rapid: 'G100',
    line: ['G101', 'G1'],
    arcClockwise: 'G102',
    arcCounterClockwise: 'G103',
    planeXY: 'G17',
    inch: ['G20', 'G70'],
    millimetre: ['G21', 'G71'],
    absolute: 'G90',
    incremental: 'G91',
    compensationOff: 'G140',
    compensationLeft: 'G141',
    compensationRight: 'G142',
  },
  letters: { x: 'A', y: 'B', centreX: 'P', centreY: 'Q', radius: 'R', feed: 'E', register: 'H' },
  numbers: {
    coordinate: { ...bare, decimals: 5 },
    feed: { ...bare, decimals: 4, decimalPoint: 'when needed', trailingZeros: false, plusSign: false },
    offset: { ...bare, decimals: 5 },
  },
  arcs: {
    centre: 'absolute',
    bothCentreWords: true,
    fullCircles: false,
    radiusToleranceMm: 0.001,
    largestRadiusMm: 5000,
  },
  repeat: { motionWord: true, coordinates: true, feed: true },
  functions: {
    setRegister: { block: 'K7 L{register} Z{offset}' },
    selectLevel: { levels: { '0': 'T90', '1': 'T91', '2': 'T92', '3': 'T93', '4': 'T94' } },
    threadWire: { block: 'M160' },
    cutWire: { block: 'M161' },
    fluidOn: { block: 'M8' },
    fluidOff: { block: 'M9' },
    stop: { block: 'M0' },
    optionalStop: { block: 'M1' },
    end: { block: 'M30' },
  },
});
