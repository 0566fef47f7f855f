import type { Contour, Point } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import type { Plan, WireOperation, WireOverrides, WireRequest } from './plan.js';
import { planWire } from './plan-wire.js';
import { proofSetupOf } from './proof-setup.js';
import { circle, plainRequest, polygon, rectangle } from './testing/drawings.js';
import { checkSteps } from './testing/step-checker.js';

const book = startingBook();

function plan(contours: readonly Contour[], overrides: WireOverrides, over: Partial<WireRequest> = {}): Plan {
  return planWire(
    contours.map((contour) => ({ contour })),
    plainRequest({ ...over, overrides }),
    book,
  );
}

function wireOf(p: Plan): WireOperation {
  const found = p.operations.find((o) => o.process === 'wire');
  expect(found, p.problems.map((q) => q.message).join('\n')).toBeDefined();
  return found as WireOperation;
}

/** The only stop problem. */
function stopOf(p: Plan) {
  const found = p.problems.filter((q) => q.severity === 'stop');
  expect(found.map((q) => q.message).length).toBe(1);
  expect(p.operations).toEqual([]);
  return found[0]!;
}

const warned = (p: Plan, code: string): string => p.problems.find((q) => q.code === code)?.message ?? '';

/** F1 the plate's outline, F2 a large hole, F3 and F4 small ones. */
const drawn = [rectangle(0, 0, 60, 40), circle(20, 20, 12), circle(45, 26, 5), circle(45, 10, 5)];

describe('passes', () => {
  it('are those stated, on the computed wire, with what they miss and by how much', () => {
    const p = plan(drawn, { passLevels: [1] }, { raUm: 0.6 });
    const wire = wireOf(p);
    expect(wire.passes.map((q) => q.level)).toEqual([1]);
    expect(wire.wireId).toBe(wireOf(plan(drawn, {}, { raUm: 0.6 })).wireId);
    expect(warned(p, 'PLAN-PASSES-RA')).toMatch(/Ra 0\.6 µm is asked \(\d\.\d\d µm too rough\)/);
    expect(p.computed[0]!.passLevels!.length).toBeGreaterThan(1);
    const [computed, overruled] = ['chosen', 'overruled'].map((mark) =>
      p.wireOptions.find((o) => o.marks.includes(mark as 'chosen')),
    );
    expect(computed).toBe(overruled);
    expect(warned(p, 'PLAN-OVERRULED-COST')).toMatch(/less than the computed choice/);
  });

  it('may be finer than asked, which costs', () => {
    const p = plan(drawn, { passLevels: [1, 2, 3, 4] });
    expect(wireOf(p).passes.length).toBe(4);
    expect(p.problems.filter((q) => q.code.startsWith('PLAN-PASSES'))).toEqual([]);
    expect(warned(p, 'PLAN-OVERRULED-COST')).toMatch(/costs \d+(\.\d)? % more/);
  });

  it('are the way out when nothing reaches what is asked', () => {
    const over = { raUm: 0.01 };
    expect(plan(drawn, {}, over).operations).toEqual([]);
    const p = plan(drawn, { passLevels: [1, 2, 3] }, over);
    expect(wireOf(p).passes.length).toBe(3);
    expect(p.computed[0]!.passLevels).toBe(null);
    expect(p.computed[0]!.order.length).toBe(4);
    expect(warned(p, 'PLAN-PASSES-RA')).toMatch(/too rough/);
  });

  it('must make sense', () => {
    expect(stopOf(plan(drawn, { passLevels: [2, 3] })).message).toMatch(
      /do not begin with the rough level 1\. Begin with 1/,
    );
    expect(stopOf(plan(drawn, { passLevels: [1, 9] })).message).toMatch(/name level 9.*Choose from 1, 2/);
    expect(stopOf(plan(drawn, { passLevels: [1, 3, 2] })).message).toMatch(/State them as 1, 2, 3/);
    expect(stopOf(plan(drawn, { passLevels: [1, 2, 2] })).message).toMatch(/State them as 1, 2/);
    expect(stopOf(plan(drawn, { passLevels: [] })).code).toBe('PLAN-PASSES-SENSELESS');
  });
});

describe('start holes', () => {
  const at = (place: Point & { diameterMm?: number; fromEdge?: boolean }, id = 'F2'): Plan =>
    plan(drawn, { startHoles: { [id]: place } });

  it('stand where they are stated, the computed place beside', () => {
    const p = at({ x: 22.5, y: 17 });
    const hole = wireOf(p).startHoles.find((h) => h.features.includes('F2'))!;
    expect(hole.at).toEqual({ x: 22.5, y: 17 });
    expect(checkSteps(wireOf(p)).faults).toEqual([]);
    const computed = p.computed[0]!.startHoles.F2!;
    expect(computed).not.toEqual({ ...hole.at, diameterMm: hole.diameterMm });
    // Taken as stated, the computed place is the computed plan.
    expect(wireOf(plan(drawn, { startHoles: { F2: computed } }))).toEqual(wireOf(plan(drawn, {})));
  });

  it('may have another diameter', () => {
    const drill = at({ x: 20, y: 20, diameterMm: 2 }).operations.find((o) => o.process === 'drill')!;
    expect(drill.title).toMatch(/of 2 mm/);
    expect(stopOf(at({ x: 20, y: 20, diameterMm: 0.7 })).message).toMatch(/diameter of 0\.7 mm.*Choose one of/);
  });

  it('start outlines from the edge', () => {
    const [from, hole] = [{ x: 30, y: 80, fromEdge: true } as const, wireOf(plan(drawn, {}))];
    const p = plan(drawn, { startHoles: { F1: from } });
    const wire = wireOf(p);
    expect(wire.startHoles.find((h) => h.features.includes('F1'))).toMatchObject({
      fromEdge: true,
      at: { x: 30, y: 80 },
    });
    expect(hole.startHoles.find((h) => h.features.includes('F1'))!.fromEdge).toBe(false);
    expect(stopOf(at({ x: 20, y: 20, fromEdge: true })).message).toMatch(/cut lies inside the material/);
    expect(stopOf(at({ x: 30, y: 42, fromEdge: true }, 'F1')).message).toMatch(/mm inside the plate/);
  });

  it('are refused with how far they miss and a place that is suitable', () => {
    const cases: [Point, string, RegExp][] = [
      [{ x: 33, y: 20 }, 'F2', /lies 1\.000 mm on the part's side/],
      [{ x: 31.5, y: 20 }, 'F2', /is too near to the contour: .* mm short\)/],
      [{ x: 30, y: 70.2 }, 'F1', /(mm outside the plate|from the plate's edge)/],
      [{ x: -8, y: 20 }, 'F1', /too near to clamp K1/],
      [{ x: 45, y: 25 }, 'F4', /on the part's side|no straight way/],
    ];
    for (const [place, id, says] of cases) {
      const { message } = stopOf(at(place, id));
      expect(message).toMatch(says);
      const [, x, y] = /Move it to \((-?[\d.]+), (-?[\d.]+)\)/.exec(message)!;
      const moved = at({ x: Number(x), y: Number(y) }, id);
      expect(wireOf(moved).startHoles.find((h) => h.features.includes(id))!.at).toEqual({ x: Number(x), y: Number(y) });
    }
  });

  it('are the way out where the plan finds no tab', () => {
    expect(stopOf(at({ x: Number.NaN, y: 0 })).code).toBe('PLAN-BAD-NUMBER');
    expect(stopOf(at({ x: 30, y: 80, fromEdge: true, diameterMm: 1 }, 'F1')).code).toBe('PLAN-HOLE-OR-EDGE');
  });
});

describe('slugs', () => {
  it('fall free by decision, with a warning, the caution, and told to the proof', () => {
    const before = wireOf(plan(drawn, {}));
    expect(before.slugs.find((s) => s.feature === 'F2')!.handling).toBe('tab');
    expect(before.cautions).not.toContain('heavy-slug');
    const p = plan(drawn, { slugHandling: { F2: 'falls free' } });
    const wire = wireOf(p);
    expect(warned(p, 'PLAN-SLUG-FALLS')).toMatch(
      /slug of F2 \(1\d\d g\) falls free.*planner's decision.*drops the 30 mm/,
    );
    expect(wire.cautions).toContain('heavy-slug');
    expect(proofSetupOf(p, wire).setup.mayFallUnattended).toContain('F2');
    expect(wire.slugs.find((s) => s.feature === 'F2')).toMatchObject({ handling: 'falls free', tabMm: null });
    expect(p.computed[0]!.slugHandling.F2).toBe('tab');
    expect(wire.attendedMin.value).toBeLessThan(before.attendedMin.value);
  });

  it('keep a tab although they could fall', () => {
    const light = [rectangle(0, 0, 60, 40), circle(20, 20, 2.5)];
    expect(wireOf(plan(light, {})).slugs.find((s) => s.feature === 'F2')!.handling).toBe('falls free');
    for (const overrides of [{ slugHandling: { F2: 'tab' } }, { tabMm: { F2: 1 } }] as WireOverrides[]) {
      const p = plan(light, overrides);
      expect(wireOf(p).slugs.find((s) => s.feature === 'F2')!.tabMm!.value).toBeGreaterThan(0);
      expect(checkSteps(wireOf(p)).faults).toEqual([]);
    }
  });

  it('have tabs as long as stated, within reason', () => {
    const p = plan(drawn, { tabMm: { F1: 4.5, F2: 0.8 } });
    expect(
      wireOf(p)
        .slugs.map((s) => s.tabMm?.value)
        .slice(0, 2),
    ).toEqual([4.5, 0.8]);
    expect(warned(p, 'PLAN-TAB-SHORT')).toMatch(/tab of 0\.80 mm stated for F2 .* shorter than the rules ask/);
    expect(stopOf(plan(drawn, { tabMm: { F2: 0.2 } })).message).toMatch(/burned away by the kerfs.*State at least/);
    expect(stopOf(plan(drawn, { tabMm: { F2: 30 } })).message).toMatch(/a quarter of its contour/);
    expect(stopOf(plan(drawn, { tabMm: { F2: 1 }, slugHandling: { F2: 'falls free' } })).message).toMatch(
      /one of the two/,
    );
    expect(stopOf(plan(drawn, { tabMm: { F2: -1 } })).code).toBe('PLAN-BAD-NUMBER');
  });

  it('let a part fall after its only pass, not before its skims', () => {
    const falls = { slugHandling: { F1: 'falls free' } } as const;
    expect(stopOf(plan(drawn, { ...falls, passLevels: [1, 2] })).message).toMatch(/part F1 .* skims come after/);
    const wire = wireOf(plan(drawn, { ...falls, passLevels: [1] }, { raUm: 12, toleranceMm: 0.2 }));
    expect(checkSteps(wire).faults).toEqual([]);
    expect(wire.touches.map((t) => t.kind)).not.toContain('part');
  });

  it('make a part too small for the rule possible with a shorter tab', () => {
    const tiny = [rectangle(0, 0, 0.8, 0.9)];
    expect(stopOf(plan(tiny, {})).code).toBe('WIRE-PART-TOO-SMALL');
    const p = plan(tiny, { tabMm: { F1: 0.4 } });
    expect(p.problems.map((q) => q.code)).not.toContain('WIRE-PART-TOO-SMALL');
  });
});

describe('order', () => {
  const cutOrder = (p: Plan): string[] => [
    ...new Set(wireOf(p).steps.flatMap((s) => (s.kind === 'cut' ? [s.feature] : []))),
  ];

  it('is as stated, the rest as computed', () => {
    const computed = plan(drawn, {}).computed[0]!.order;
    const reversed = ['F4', 'F3', 'F2'];
    for (const order of [reversed, [computed[2]!]]) {
      const p = plan(drawn, { order });
      expect(cutOrder(p).slice(0, order.length)).toEqual(order);
      expect(cutOrder(p).at(-1)).toBe('F1');
      expect(p.computed[0]!.order).toEqual(computed);
      expect(checkSteps(wireOf(p)).faults).toEqual([]);
    }
  });

  it('may finish one part before the next is begun, with a visit for each', () => {
    const two = [rectangle(0, 0, 40, 40), circle(20, 20, 12), rectangle(60, 0, 40, 40), circle(80, 20, 12)];
    const together = wireOf(plan(two, {}));
    const p = plan(two, { order: ['F2', 'F1', 'F4', 'F3'] });
    const apart = wireOf(p);
    expect(cutOrder(p)).toEqual(['F2', 'F1', 'F4', 'F3']);
    const visits = (o: WireOperation): number => o.touches.filter((t) => t.kind === 'slug' || t.kind === 'part').length;
    expect([visits(together), visits(apart)]).toEqual([2, 4]);
    expect(apart.attendedMin.value).toBeGreaterThan(together.attendedMin.value);
    // Alone in its turn, an outline needs no second threading for its tab.
    expect(apart.threadings).toBe(together.threadings - 2);
    expect(checkSteps(apart).threadings).toBe(apart.threadings);
  });

  it('does not free a part before its openings, nor a slug before what lies in it', () => {
    expect(stopOf(plan(drawn, { order: ['F1'] })).message).toMatch(/frees the part of F1 before F2, F3, F4 in it/);
    expect(stopOf(plan(drawn, { order: ['F2', 'F1'] })).message).toMatch(
      /before F3, F4 in it are cut. Name F3, F4 before F1/,
    );
    const ring = [rectangle(0, 0, 100, 100), circle(50, 50, 40), circle(50, 50, 20)];
    expect(stopOf(plan(ring, { order: ['F2'] })).message).toMatch(/slug of F2 before F3/);
    expect(stopOf(plan(drawn, { order: ['F2', 'F2'] })).code).toBe('PLAN-ORDER-TWICE');
  });

  it('may cut an open cut before the openings, after which the part is still held', () => {
    const slit: Contour = { ...polygon([-30, 50], [90, 50]), isClosed: false };
    const open = { ...slit, segments: slit.segments.slice(0, 1) };
    const p = plan([...drawn, open], { order: ['F5'] }, { openPartSide: 'right' });
    expect(cutOrder(p)[0]).toBe('F5');
  });
});

it('names all unknown features in one stop problem', () => {
  const overrides: WireOverrides = { tabMm: { F9: 1 }, order: ['F2', 'G1'], startHoles: { X: { x: 0, y: 0 } } };
  expect(stopOf(plan(drawn, overrides)).message).toMatch(
    /names X, F9, G1, which the drawing does not have; it has F1 to F4/,
  );
});

it('keeps stacks, and applies to every height of stack', () => {
  const over = { quantity: 7, heightMm: 14, stack: 3 };
  const free = plan(drawn, {}, over);
  const p = plan(drawn, { startHoles: { F2: { x: 22, y: 20 } } }, over);
  const stacks = (q: Plan): number[][] =>
    q.operations.flatMap((o) => (o.process === 'wire' ? [[o.stack, o.runs]] : []));
  expect(stacks(free)).toEqual([
    [3, 2],
    [1, 1],
  ]);
  expect(stacks(p)).toEqual(stacks(free));
  expect(p.computed.map((c) => c.operation)).toEqual(
    p.operations.flatMap((o) => (o.process === 'wire' ? [o.number] : [])),
  );
  for (const o of p.operations) {
    if (o.process === 'wire') expect(o.startHoles.find((h) => h.features.includes('F2'))!.at).toEqual({ x: 22, y: 20 });
  }
});
