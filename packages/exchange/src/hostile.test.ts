import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Random, seededRandom } from '@gapwright/base';
import { describe, expect, it } from 'vitest';
import type { DxfDrawing } from './dxf/drawing.js';
import { readDxf } from './dxf/read-dxf.js';
import { profileFromDrawing } from './profile/profile-from-drawing.js';
import { block, circle, dxfText, encode, insert, line, polyline } from './testing/dxf-text.js';
import { fixtureBytes } from './testing/fixtures.js';

const FOLDER = fileURLToPath(new URL('../../../fixtures/dxf/hostile/', import.meta.url));

/** Longest time one small file may take on a slow core that others use as well, ms. */
const LONGEST_MS = 1000;

describe('hostile files', () => {
  it.each(readdirSync(FOLDER))('%s gives one stop problem that says what to do', (file) => {
    const { value, problems } = readDxf(readFileSync(`${FOLDER}${file}`), { fileName: file });
    expect(value).toBeNull();
    const stops = problems.filter((p) => p.severity === 'stop');
    expect(stops).toHaveLength(1);
    expect(stops[0]!.code).toMatch(/^DXF-/);
    expect(stops[0]!.message.split('. ').length).toBeGreaterThan(1);
    expect(stops[0]!.at?.file).toBe(file);
  });
});

const SPLINE_FILE = fixtureBytes('dxf-parser/arcs-as-splines.dxf');

/** Small files that hold every kind of entity. */
const BASES: readonly Uint8Array[] = [
  encode(
    dxfText({
      blocks: [...block('A', circle(1, 1, 0.5)), ...block('B', insert('A', 2, 2, [70, 2], [44, 3]))],
      entities: [...line(0, 0, 10, 0.125), ...insert('B', 1, 1, [41, 2], [42, 2]), ...circle(5, 5, 2)],
    }),
  ),
  encode(
    dxfText({
      entities: [
        ...polyline([
          [0, 0, 0.5],
          [10, 0],
          [10, 10, -0.25],
          [0, 10],
        ]),
        [0, 'ARC'],
        [8, 'CUT'],
        [10, 3],
        [20, 4],
        [40, 2.5],
        [50, 30],
        [51, 200],
        [0, 'ELLIPSE'],
        [8, 'CUT'],
        [10, 1],
        [20, 1],
        [11, 4],
        [21, 3],
        [40, 0.5],
      ],
    }),
  ),
  SPLINE_FILE,
  fixtureBytes('dxf/diamond-bin.dxf'),
  fixtureBytes('ezdxf/bin_dxf_r12.dxf'),
  fixtureBytes('ezdxf/Minimal_DXF_AC1006.dxf'),
];

const BAD_NUMBERS = ['2,5', 'abc', 'NaN', '-Infinity', '', '1e999', '0x1F', '1.2.3', '--4', '1e', '5 6', '1_000', '٣'];

/** A line of text replaced so that, where a number was, none is left. */
function mangle(text: string, random: Random): { text: string; isMangled: boolean } {
  const lines = text.split('\n');
  const isCoordinate = (i: number): boolean => i % 2 === 1 && /^ *[12][01]\r?$/.test(lines[i - 1]!);
  const start = lines.indexOf('ENTITIES');
  const places = lines.map((_, i) => i).filter((i) => i > start && isCoordinate(i));
  if (places.length === 0) return { text, isMangled: false };
  lines[places[random.below(places.length)]!] = BAD_NUMBERS[random.below(BAD_NUMBERS.length)]!;
  return { text: lines.join('\n'), isMangled: true };
}

function mutateLines(text: string, random: Random): string {
  const lines = text.split('\n');
  const i = random.below(lines.length);
  switch (random.below(6)) {
    case 0:
      lines.splice(i, 1);
      break;
    case 1:
      lines.splice(i, 0, lines[i]!);
      break;
    case 2:
      lines[i] = String(random.below(2 ** 31));
      break;
    case 3:
      lines[i] = lines[random.below(lines.length)]!;
      break;
    case 4:
      lines.splice(i, 2, ...lines.splice(random.below(lines.length), 2));
      break;
    default:
      lines.splice(i, 0, ...lines.slice(0, random.below(lines.length)));
  }
  return lines.join('\n');
}

function mutateBytes(bytes: Uint8Array, random: Random): Uint8Array {
  const out = bytes.slice(0, random.below(4) === 0 ? random.below(bytes.length) : bytes.length);
  for (let k = random.below(4); k >= 0 && out.length > 0; k--) out[random.below(out.length)] = random.below(256);
  return out;
}

/** Every number of a drawing is a finite one. */
function allFinite(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (value === null || typeof value !== 'object') return true;
  return Object.values(value).every(allFinite);
}

function read(bytes: Uint8Array): DxfDrawing | null {
  const start = performance.now();
  const { value, problems } = readDxf(bytes);
  const stops = problems.filter((p) => p.severity === 'stop').length;
  expect(stops).toBe(value === null ? 1 : 0);
  if (value !== null) {
    expect(allFinite(value)).toBe(true);
    const profile = profileFromDrawing(value);
    if (profile.value !== null) expect(allFinite(profile.value)).toBe(true);
  }
  expect(performance.now() - start, new TextDecoder().decode(bytes)).toBeLessThan(LONGEST_MS);
  return value;
}

describe('mutated files', () => {
  it('never throw, never hang, and never pass with a mangled number', { timeout: 120_000 }, () => {
    const random = seededRandom(20_260_301);
    let refused = 0;
    let mangled = 0;
    for (let run = 0; run < 20_000; run++) {
      const base = BASES[random.below(BASES.length)]!;
      const isBinary = base[0] === 65;
      const way = isBinary ? 2 : random.below(3);
      let isMangled = false;
      let bytes: Uint8Array;
      if (way === 2) bytes = mutateBytes(base, random);
      else {
        const text = new TextDecoder().decode(base).replaceAll('\r', '');
        if (way === 1) bytes = encode(mutateLines(text, random));
        else {
          const done = mangle(text, random);
          // The last base holds faces, which are left out unread, numbers and all.
          isMangled = done.isMangled && base !== BASES.at(-1);
          bytes = encode(done.text);
        }
      }
      const value = read(bytes);
      if (value === null) refused++;
      if (isMangled) {
        mangled++;
        expect(value, `mangled number accepted in run ${run}`).toBeNull();
      }
    }
    expect(mangled).toBeGreaterThan(2000);
    expect(refused).toBeGreaterThan(8000);
  });
});
