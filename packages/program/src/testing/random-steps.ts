import { arcPieces, line, type Point, type Segment } from '@gapwright/geometry';
import fc from 'fast-check';
import type { ProgramStep } from '../step.js';

const coordinate = fc.double({ min: -150, max: 150, noNaN: true });
const point = fc.record({ x: coordinate, y: coordinate });
/** Mostly ordinary sizes, now and then far below the last digit written. */
const size = fc.oneof(
  { weight: 8, arbitrary: fc.double({ min: 0.05, max: 40, noNaN: true }) },
  { weight: 1, arbitrary: fc.double({ min: 1e-7, max: 0.002, noNaN: true }) },
);
const angle = fc.double({ min: -Math.PI, max: Math.PI, noNaN: true });

/** One piece of a path relative to wherever it starts. */
type Piece =
  | { readonly kind: 'line'; readonly lengthMm: number; readonly rad: number }
  | { readonly kind: 'arc'; readonly radiusMm: number; readonly startRad: number; readonly sweepRad: number };

const linePiece = fc.record({ kind: fc.constant('line' as const), lengthMm: size, rad: angle });
const arcPiece = fc.record({
  kind: fc.constant('arc' as const),
  radiusMm: fc.oneof(
    { weight: 8, arbitrary: size },
    { weight: 1, arbitrary: fc.double({ min: 500, max: 9000, noNaN: true }) },
  ),
  startRad: angle,
  // Half circles often, because there both ends pin the centre down.
  sweepRad: fc.oneof(
    fc.constantFrom(Math.PI, -Math.PI, 2 * Math.PI, -2 * Math.PI),
    fc.double({ min: 1e-4, max: Math.PI, noNaN: true }).chain((s) => fc.constantFrom(s, -s)),
  ),
});
const leadPiece = fc.record({
  kind: fc.constant('line' as const),
  lengthMm: fc.double({ min: 0.1, max: 10, noNaN: true }),
  rad: angle,
});
const piece = fc.oneof(linePiece, arcPiece);

function walk(start: Point, pieces: readonly Piece[]): Segment[] {
  const out: Segment[] = [];
  let at = start;
  for (const p of pieces) {
    if (p.kind === 'line') {
      const to = { x: at.x + p.lengthMm * Math.cos(p.rad), y: at.y + p.lengthMm * Math.sin(p.rad) };
      out.push(line(at, to));
      at = to;
    } else {
      const centre = { x: at.x - p.radiusMm * Math.cos(p.startRad), y: at.y - p.radiusMm * Math.sin(p.startRad) };
      const arcs = arcPieces(centre, p.radiusMm, p.startRad, p.sweepRad);
      out.push(...arcs);
      at = arcs.at(-1)!.to;
    }
  }
  return out;
}

const cut = fc
  .record({
    start: point,
    leadIn: leadPiece,
    path: fc.array(piece, { maxLength: 8 }),
    leadOut: leadPiece,
    side: fc.constantFrom('left' as const, 'right' as const),
    register: fc.integer({ min: 1, max: 4 }),
    level: fc.integer({ min: 0, max: 4 }),
    pass: fc.integer({ min: 1, max: 4 }),
    feedMmPerMin: fc.double({ min: 0.05, max: 30, noNaN: true }),
    isThreaded: fc.boolean(),
  })
  .map((c): ProgramStep[] => {
    const leadIn = walk(c.start, [c.leadIn]);
    const path = walk(leadIn.at(-1)!.to, c.path);
    const leadOut = walk((path.at(-1) ?? leadIn.at(-1)!).to, [c.leadOut]);
    return [
      c.isThreaded ? { kind: 'thread-wire', at: c.start } : { kind: 'move', to: c.start },
      { kind: 'select-level', level: c.level },
      {
        kind: 'cut',
        feature: 'F1',
        pass: c.pass,
        side: c.side,
        register: c.register,
        feedMmPerMin: c.feedMmPerMin,
        leadIn,
        path,
        leadOut,
      },
    ];
  });

const words = fc.string({ maxLength: 50 });
const other: fc.Arbitrary<ProgramStep[]> = fc.oneof(
  words.map((text): ProgramStep[] => [{ kind: 'note', text }]),
  fc.constant<ProgramStep[]>([{ kind: 'cut-wire' }]),
  fc.boolean().map((on): ProgramStep[] => [{ kind: 'fluid', on }]),
  fc.record({ reason: words, optional: fc.boolean() }).map((s): ProgramStep[] => [{ kind: 'stop', ...s }]),
  point.map((to): ProgramStep[] => [{ kind: 'move', to }]),
);

/** Any legal list of steps: registers first, then cuts and everything else in any order. */
export const randomSteps: fc.Arbitrary<ProgramStep[]> = fc
  .record({
    offsets: fc.array(fc.double({ min: 0, max: 0.3, noNaN: true }), { minLength: 4, maxLength: 4 }),
    rest: fc.array(fc.oneof({ weight: 3, arbitrary: cut }, { weight: 2, arbitrary: other }), { maxLength: 6 }),
  })
  .map(({ offsets, rest }) => [
    ...offsets.map((offsetMm, i): ProgramStep => ({ kind: 'set-register', register: { number: i + 1, offsetMm } })),
    ...rest.flat(),
  ]);
