/// <reference path="../../packages/program/src/testing/gcode-interpreter.d.ts" />
import { readFileSync } from 'node:fs';
import { seededRandom } from '@gapwright/base';
import { arcPieces, line, type Point, type Segment } from '@gapwright/geometry';
import { type Motion, type PostDefinition, parsePost, readProgram, writeProgram } from '@gapwright/program';
import Interpreter from 'gcode-interpreter';
import { type BenchLine, medianMs } from './bench-line.js';

/** A wandering cut of lines and arcs, with lead-in and lead-out. */
function cutText(count: number, post: PostDefinition): string {
  const random = seededRandom(count);
  let at: Point = { x: 0, y: 5 };
  const path: Segment[] = [];
  while (path.length < count) {
    const rad = 2 * Math.PI * random.uniform();
    const lengthMm = 0.2 + 3 * random.uniform();
    const pieces: Segment[] =
      path.length % 3 === 0
        ? arcPieces(
            { x: at.x - lengthMm * Math.cos(rad), y: at.y - lengthMm * Math.sin(rad) },
            lengthMm,
            rad,
            (random.uniform() - 0.5) * 2 * Math.PI,
          )
        : [line(at, { x: at.x + lengthMm * Math.cos(rad), y: at.y + lengthMm * Math.sin(rad) })];
    path.push(...pieces);
    at = pieces.at(-1)!.to;
  }
  const { value, problems } = writeProgram(
    [
      { kind: 'set-register', register: { number: 1, offsetMm: 0.15 } },
      { kind: 'thread-wire', at: { x: 0, y: 0 } },
      {
        kind: 'cut',
        feature: 'F1',
        pass: 1,
        side: 'left',
        register: 1,
        feedMmPerMin: 2,
        leadIn: [line({ x: 0, y: 0 }, { x: 0, y: 5 })],
        path,
        leadOut: [line(at, { x: at.x + 5, y: at.y })],
      },
    ],
    post,
    { title: 'Bench', notes: [] },
  );
  if (value === null) throw new Error(problems[0]!.message);
  return value.text;
}

/** Ends and arc centres of every motion, as one flat list of numbers. */
function oursNumbers(motions: readonly Motion[]): number[] {
  return motions.flatMap((m) => {
    if (m.kind === 'arc') return [m.to.x, m.to.y, m.centre.x, m.centre.y];
    return m.kind === 'line' || m.kind === 'rapid' ? [m.to.x, m.to.y] : [];
  });
}

/** The same list with the library finding the words and their modal motion. */
function theirNumbers(text: string): number[] {
  const out: number[] = [];
  let x = 0;
  let y = 0;
  type Words = Readonly<Record<string, number>>;
  const move = (a: Words): void => {
    if (a.X === undefined && a.Y === undefined) return;
    const [fromX, fromY] = [x, y];
    x = a.X ?? x;
    y = a.Y ?? y;
    out.push(x, y);
    if (a.I !== undefined) out.push(fromX + a.I, fromY + a.J!);
  };
  // The library gives `G40 X Y` to G40; the motion in force there is a line.
  new Interpreter({ handlers: { G0: move, G1: move, G2: move, G3: move, G40: move } }).loadFromStringSync(text);
  return out;
}

/** Reading speed of program text: strict reading to checked motion against a general interpreter's parse. */
export async function run(quick: boolean): Promise<BenchLine[]> {
  const file = new URL('../../../shop/posts/iso-6983.json', import.meta.url);
  const post = parsePost(JSON.parse(readFileSync(file, 'utf8'))).value!;
  const lines: BenchLine[] = [];
  for (const count of quick ? [2000] : [2000, 50_000]) {
    const text = cutText(count, post);
    const mine = oursNumbers(readProgram(text, post).value!);
    const other = theirNumbers(text);
    if (mine.length !== other.length) throw new Error(`${mine.length} numbers against ${other.length}`);
    let worst = 0;
    mine.forEach((n, i) => {
      worst = Math.max(worst, Math.abs(n - other[i]!));
    });
    if (!(worst < 1e-9)) throw new Error(`both read different positions: ${worst} mm`);
    const rounds = quick ? 9 : 15;
    const ours = medianMs(() => readProgram(text, post), rounds);
    const theirs = medianMs(() => new Interpreter({ handlers: {} }).loadFromStringSync(text), rounds);
    lines.push({
      name: `read program text, ${count} segments: to checked motion (ours), to words only (gcode-interpreter)`,
      ours,
      theirs,
      ratio: theirs / ours,
      unit: 'ms',
      input: `${text.split('\n').length} lines, ${text.length} characters, a third of the segments arcs`,
      agreement: `${mine.length} end and centre coordinates, largest difference ${worst} mm`,
    });
  }
  return lines;
}
