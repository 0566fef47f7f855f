import type { Contour } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import { startingBook } from '../../process/src/testing/starting-book.js';
import { allLadders } from './pass-ladder.js';
import type { Plan, WireOperation, WireRequest } from './plan.js';
import { planWire } from './plan-wire.js';
import { circle, plainRequest, polygon, rectangle, roundedRectangle } from './testing/drawings.js';
import { checkSteps } from './testing/step-checker.js';

const book = startingBook();

function plan(contours: Contour[], over: Partial<WireRequest> = {}): Plan {
  return planWire(
    contours.map((contour) => ({ contour })),
    plainRequest(over),
    book,
  );
}

function wireOf(p: Plan): WireOperation {
  const found = p.operations.find((o) => o.process === 'wire');
  expect(found, p.problems.map((q) => q.message).join('\n')).toBeDefined();
  return found as WireOperation;
}

const codes = (p: Plan): string[] => p.problems.map((q) => q.code);

describe('a rectangle with a hole', () => {
  const drawn = [rectangle(0, 0, 60, 40), circle(20, 20, 6)];

  it('is one part with one opening, measured exactly', () => {
    const p = plan(drawn);
    expect(p.features.map((f) => [f.id, f.kind, f.role, f.partOf])).toEqual([
      ['F1', 'profile', 'outline', null],
      ['F2', 'hole', 'opening', 'F1'],
    ]);
    expect(p.features[0]!.lengthMm).toBeCloseTo(200, 9);
    expect(p.features[0]!.areaMm2).toBeCloseTo(2400, 9);
    expect(p.features[1]!.areaMm2).toBeCloseTo(36 * Math.PI, 9);
    expect(p.features[1]!.minInsideRadiusMm).toBeCloseTo(6, 9);
    expect(p.features[0]!.sharpInsideCorners).toEqual([]);
  });

  it('is planned with sound steps, the inner feature first', () => {
    const wire = wireOf(plan(drawn));
    const check = checkSteps(wire);
    expect(check.faults).toEqual([]);
    expect(check.threadings).toBe(wire.threadings);
    const order = wire.steps.flatMap((s) => (s.kind === 'cut' ? [s.feature] : []));
    expect(order.lastIndexOf('F2')).toBeLessThan(order.indexOf('F1'));
  });

  it('covers every contour with every pass, tab and overlap included', () => {
    const wire = wireOf(plan(drawn));
    const { contourMm, passMm } = checkSteps(wire);
    const overlap = book.rules.tabOverlapMm.value;
    expect(contourMm.get('F1/1')).toBeCloseTo(200 + overlap, 6);
    expect(contourMm.get('F1/2')).toBeCloseTo(200 + 2 * overlap, 6);
    expect(contourMm.get('F2/1')).toBeCloseTo(12 * Math.PI + overlap, 6);
    expect(contourMm.get('F2/2')).toBeCloseTo(12 * Math.PI + book.rules.entryOverlapMm.value, 6);
    for (const pass of wire.passes) expect(passMm.get(pass.pass)).toBeCloseTo(pass.pathMm.value, 6);
  });

  it('knows the masses: area x height x density', () => {
    const wire = wireOf(plan(drawn));
    const density = book.materials.find((m) => m.id === 'D2')!.densityGPerCm3.value / 1000;
    const [part, slug] = wire.slugs;
    expect(part!.massG.value).toBeCloseTo((2400 - 36 * Math.PI) * 30 * density, 6);
    expect(slug!.massG.value).toBeCloseTo(36 * Math.PI * 30 * density, 6);
  });

  it('offsets each pass by wire radius, gap and the stock left', () => {
    const { passes, wireDiameterMm } = wireOf(plan(drawn));
    passes.forEach((pass, k) => {
      const left = passes.slice(k + 1).reduce((sum, p) => sum + p.stockMm.value, 0);
      expect(pass.offsetMm.value).toBeCloseTo(wireDiameterMm / 2 + pass.gapMm.value + left, 12);
    });
  });

  it('stops before each piece comes free', () => {
    const { steps } = wireOf(plan(drawn));
    const stops = steps.filter((s) => s.kind === 'stop').map((s) => s.reason);
    expect(stops.filter((r) => /frees it/.test(r))).toHaveLength(2);
  });

  it('drills before it burns and counts the same time twice nowhere', () => {
    const p = plan(drawn);
    expect(p.operations.map((o) => [o.number, o.process])).toEqual([
      [10, 'drill'],
      [20, 'wire'],
      [30, 'other'],
    ]);
    const wire = wireOf(p);
    const burn = wire.passes.reduce((sum, q) => sum + q.burnMin.value, 0);
    expect(p.totals!.burnMin.value).toBeCloseTo(burn, 9);
    const threading = wire.threadings * book.wireMachines.find((m) => m.id === wire.machineId)!.threadMin.value;
    const fill = book.wireMachines.find((m) => m.id === wire.machineId)!.fillMin.value;
    expect(wire.machineMin.value).toBeCloseTo(burn + threading + fill, 9);
    const { rates } = book;
    const visits = 2 * (rates.visitMin.value + rates.slugVisitMin.value);
    expect(wire.attendedMin.value).toBeCloseTo(rates.setUpMin.value + visits + rates.unloadMin.value, 9);
  });
});

describe('choices', () => {
  it('marks cheapest, fastest and chosen, and obeys the planner', () => {
    const drawn = [rectangle(0, 0, 60, 40)];
    const free = plan(drawn);
    const chosen = free.wireOptions.find((o) => o.marks.includes('chosen'))!;
    expect(chosen.marks).toContain('cheapest');
    const costs = free.wireOptions.flatMap((o) => (o.comparisonCost === null ? [] : [o.comparisonCost.value]));
    expect(chosen.comparisonCost!.value).toBe(Math.min(...costs));
    const forced = plan(drawn, { wireId: 'B10' });
    expect(wireOf(forced).wireId).toBe('B10');
    expect(codes(forced)).toContain('WIRE-CHOICE-COSTLIER');
    const machine = plan(drawn, { machineId: 'W6' });
    expect(wireOf(machine).machineId).toBe('W6');
    expect(machine.wireOptions.filter((o) => o.marks.includes('chosen'))).toHaveLength(1);
    expect(machine.wireOptions.filter((o) => o.marks.includes('cheapest'))).toHaveLength(1);
  });

  it('stacks plates when that is cheaper, within the rule', () => {
    const wire = wireOf(plan([rectangle(0, 0, 20, 20)], { heightMm: 5, quantity: 40, toleranceMm: 0.03 }));
    expect(wire.stack).toBeGreaterThan(1);
    expect(wire.stack * 5).toBeLessThanOrEqual(book.rules.maxStackHeightMm.value);
    expect(wire.runs * wire.stack).toBeGreaterThanOrEqual(40);
    expect(wire.burnHeightMm).toBe(wire.stack * 5);
    expect(wireOf(plan([rectangle(0, 0, 20, 20)], { heightMm: 5, quantity: 40, stack: 2 })).runs).toBe(20);
  });

  it('gives the rest of the quantity a stack of its own', () => {
    const p = plan([rectangle(0, 0, 40, 40), circle(20, 20, 5)], { heightMm: 20, quantity: 7, stack: 3 });
    const wires = p.operations.filter((o) => o.process === 'wire');
    expect(wires.map((o) => [o.stack, o.runs, o.burnHeightMm])).toEqual([
      [3, 2, 60],
      [1, 1, 20],
    ]);
    expect(p.operations.map((o) => o.number)).toEqual([10, 20, 30, 40, 50]);
    expect(new Set(p.operations.map((o) => o.title)).size).toBe(5);
    const [full, rest] = wires;
    expect(rest!.passes[0]!.feedMmPerMin.value).toBeGreaterThan(full!.passes[0]!.feedMmPerMin.value);
    for (const wire of wires) expect(checkSteps(wire).faults).toEqual([]);
    const burn = wires.reduce((sum, o) => sum + o.runs * o.passes.reduce((s, q) => s + q.burnMin.value, 0), 0);
    expect(p.totals!.burnMin.value).toBeCloseTo(burn, 9);
    expect(p.wireOptions.find((o) => o.marks.includes('chosen'))!.burnMin!.value).toBeCloseTo(burn, 9);
    const setUps = wires.map((o) => o.runs * o.touches[0]!.min.value);
    const { setUpMin, repeatSetUpMin } = book.rates;
    expect(setUps[0]! + setUps[1]!).toBeCloseTo(setUpMin.value + 2 * repeatSetUpMin.value, 9);
    expect(codes(p)).not.toContain('WIRE-STACK-SPARE');
  });

  it('says when stacks hold more plates than are needed', () => {
    const p = plan([rectangle(0, 0, 40, 40)], { heightMm: 20, quantity: 2, stack: 3 });
    expect(p.problems.find((q) => q.code === 'WIRE-STACK-SPARE')!.message).toContain('1 plate more');
  });

  it('counts equal outlines as copies and different ones as a set', () => {
    const copies = plan([rectangle(0, 0, 20, 20), rectangle(30, 0, 20, 20)], { quantity: 4, stack: 1 });
    expect(wireOf(copies).runs).toBe(2);
    const set = plan([rectangle(0, 0, 20, 20), rectangle(30, 0, 20, 10)], { quantity: 4, stack: 1 });
    expect(wireOf(set).runs).toBe(4);
    expect(codes(set)).toContain('PLAN-SET-OF-PARTS');
  });

  it('measures one feature of each kind on a sample, and cleans all', () => {
    const drawn = [rectangle(0, 0, 60, 40), circle(10, 20, 3), circle(20, 20, 3), circle(30, 20, 4)];
    const bench = plan(drawn, { quantity: 25 }).operations.find((o) => o.process === 'other')!;
    const { cleaningMinPerPart, inspectionMinPerCharacteristic } = book.rates;
    // Three kinds on sqrt(25) + 1 pieces.
    const wanted = 25 * cleaningMinPerPart.value + 3 * 6 * inspectionMinPerCharacteristic.value;
    expect(bench.attendedMin.value).toBeCloseTo(wanted, 9);
  });

  it('tries every ladder that starts with the rough level', () => {
    const level = { gapMm: 0.01, stockMm: 0.01, raUm: 1, recastUm: 5, accuracyMm: 0.01, feedMmPerMin: 5 };
    expect(allLadders([level, level, level, level], 0.25)).toHaveLength(8);
  });
});

describe('what cannot be burned', () => {
  const small = roundedRectangle(10, 10, 10, 6, 0.1);
  const outline = rectangle(0, 0, 40, 40);

  it('names the corner, the wire and the way out', () => {
    const p = plan([outline, small], { wireId: 'B25' });
    expect(p.operations).toEqual([]);
    const found = p.problems.find((q) => q.code === 'WIRE-RADIUS-TOO-SMALL')!;
    expect(found.message).toMatch(
      /^Inside corner at \(\d+\.\d\d, \d+\.\d\d\) has radius 0\.10 mm; the 0\.25 mm wire leaves 0\.\d\d mm\. Use the 0\.10 mm wire, or ask for R0\.\d\d\.$/,
    );
    expect(found.at).toMatchObject({ feature: 'F2' });
  });

  it('takes the thin wire when the planner leaves the choice', () => {
    const p = plan([outline, small]);
    expect(wireOf(p).wireId).toBe('B10');
    expect(p.wireOptions.filter((o) => !o.fits).map((o) => o.wireId)).toContain('B25');
  });

  it('rounds tight corners as agreed', () => {
    const p = plan([outline, small], { wireId: 'B25', agreedCornerRadiusMm: 0.25 });
    const wire = wireOf(p);
    expect(wire.agreedCornerRadiusMm).toBe(0.25);
    expect(codes(p)).toContain('WIRE-CORNERS-ROUNDED');
    const radii = wire.steps.flatMap((s) =>
      s.kind === 'cut' && s.feature === 'F2' ? s.path.flatMap((q) => (q.kind === 'arc' ? [q.radiusMm] : [])) : [],
    );
    expect(Math.min(...radii)).toBeCloseTo(0.25, 6);
    expect(checkSteps(wire).faults).toEqual([]);
  });

  it('proposes what the wire leaves in sharp inside corners', () => {
    const notch = polygon([0, 0], [40, 0], [40, 30], [25, 30], [25, 20], [15, 20], [15, 30], [0, 30]);
    const p = plan([notch]);
    expect(codes(p)).toContain('WIRE-SHARP-CORNER');
    expect(wireOf(p).agreedCornerRadiusMm).toBeGreaterThan(wireOf(p).wireDiameterMm / 2);
    const strict = plan([notch], { agreedCornerRadiusMm: 0.01 });
    expect(strict.operations).toEqual([]);
    expect(strict.problems.some((q) => q.severity === 'stop')).toBe(true);
  });

  it('refuses slots narrower than the kerf', () => {
    const p = plan([outline, rectangle(10, 10, 12, 0.2)], { wireId: 'B25' });
    expect(codes(p)).toContain('WIRE-TOO-NARROW');
    expect(p.operations).toEqual([]);
  });

  it('refuses openings without room for a start hole', () => {
    const p = plan([outline, circle(20, 20, 0.35)], { wireId: 'B25' });
    expect(codes(p)).toContain('WIRE-START-HOLE');
  });

  it('refuses surfaces and tolerances finer than any level', () => {
    expect(codes(plan([outline], { raUm: 0.05 }))).toContain('WIRE-RA-TOO-FINE');
    expect(codes(plan([outline], { toleranceMm: 0.0005 }))).toContain('WIRE-TOLERANCE-TOO-FINE');
    expect(codes(plan([outline], { recastMaxUm: 0.1 }))).toContain('WIRE-RECAST');
  });

  it('refuses what no machine takes', () => {
    expect(codes(plan([rectangle(0, 0, 2000, 40)]))).toContain('WIRE-TRAVEL');
    expect(codes(plan([outline], { heightMm: 590 }))).toContain('WIRE-TOO-HIGH');
    expect(codes(plan([outline], { materialId: 'alumina' }))).toContain('WIRE-NOT-CONDUCTIVE');
    expect(codes(plan([outline], { materialId: 'cheese' }))).toContain('PLAN-MATERIAL-UNKNOWN');
    expect(codes(plan([outline], { wireId: 'X' }))).toContain('WIRE-UNKNOWN');
    expect(codes(plan([outline], { machineId: 'X' }))).toContain('WIRE-MACHINE-UNKNOWN');
    expect(codes(plan([outline], { quantity: 0 }))).toContain('PLAN-BAD-NUMBER');
    expect(codes(plan([]))).toContain('PLAN-NOTHING-TO-CUT');
  });

  it('refuses contours that cross', () => {
    const bow = polygon([0, 0], [10, 10], [10, 0], [0, 10]);
    expect(plan([bow]).problems.some((q) => q.severity === 'stop')).toBe(true);
    expect(plan([rectangle(0, 0, 10, 10), rectangle(5, 5, 10, 10)]).operations).toEqual([]);
  });

  it('refuses cuts through clamps and out of the plate', () => {
    const clamp = { id: 'K9', label: 'vice', box: { minX: 30, minY: -5, maxX: 60, maxY: 60 } };
    expect(codes(plan([outline], { keepOuts: [clamp] }))).toContain('WIRE-KEEP-OUT');
    expect(codes(plan([outline], { plate: { minX: 0, minY: 0, maxX: 30, maxY: 50 } }))).toContain('WIRE-OUTSIDE-PLATE');
  });
});

describe('other shapes', () => {
  it('cuts only the layers asked for; the blank becomes the plate', () => {
    const drawn = [
      { contour: rectangle(0, 0, 80, 60), layer: 'blank' },
      { contour: circle(40, 30, 8), layer: 'cut' },
    ];
    const p = planWire(drawn, plainRequest({ cutLayers: ['cut'] }), book);
    expect(p.features.map((f) => [f.role, f.layer])).toEqual([['opening', 'cut']]);
    expect(wireOf(p).plate).toEqual({ minX: 0, minY: 0, maxX: 80, maxY: 60 });
  });

  it('burns an open cut with the part on the stated side', () => {
    const open = polygon([0, 0], [30, 0], [30, 20], [60, 20]);
    const contour = { segments: open.segments.slice(0, 3), isClosed: false };
    const p = plan([contour], { openPartSide: 'left' });
    const wire = wireOf(p);
    expect(checkSteps(wire).faults).toEqual([]);
    const cuts = wire.steps.filter((s) => s.kind === 'cut');
    expect(cuts.map((c) => c.side)).toEqual(wire.passes.map((q) => (q.pass % 2 === 1 ? 'right' : 'left')));
    const turned = plan([contour], { openPartSide: 'right' });
    expect(turned.features[0]!.contour.segments[0]!.from).toEqual({ x: 60, y: 20 });
  });

  it('keeps somebody there when an open cut parts the plate', () => {
    const contour = { segments: polygon([0, 10], [40, 10], [40, 30]).segments.slice(0, 1), isClosed: false };
    const plate = { minX: 0, minY: 0, maxX: 40, maxY: 30 };
    const wire = wireOf(plan([contour], { plate, keepOuts: [], openPartSide: 'left' }));
    const stop = wire.steps.findIndex((s) => s.kind === 'stop');
    expect(stop).toBeGreaterThan(0);
    expect(stop).toBeLessThan(wire.steps.findIndex((s) => s.kind === 'cut'));
    const inside = plan([contour], { plate: { ...plate, maxX: 60 }, keepOuts: [], openPartSide: 'left' });
    expect(wireOf(inside).steps.some((s) => s.kind === 'stop')).toBe(false);
  });

  it('takes a part out of a slug before the slug', () => {
    const wire = wireOf(plan([rectangle(0, 0, 80, 80), rectangle(15, 15, 50, 50), rectangle(25, 25, 30, 30)]));
    const order = wire.steps.flatMap((s) => (s.kind === 'cut' ? [s.feature] : []));
    expect(order.indexOf('F2')).toBeGreaterThan(order.lastIndexOf('F3'));
    expect(checkSteps(wire).faults).toEqual([]);
  });

  it('lets small slugs fall and skims them in the same threading', () => {
    const wire = wireOf(plan([rectangle(0, 0, 40, 40), circle(20, 20, 2)], { heightMm: 10 }));
    expect(wire.slugs.find((s) => s.feature === 'F2')!.handling).toBe('falls free');
    const threads = wire.steps.filter((s) => s.kind === 'thread-wire');
    expect(threads).toHaveLength(2);
    expect(checkSteps(wire).faults).toEqual([]);
  });

  it('starts from the plate edge when the rim holds no hole', () => {
    const wire = wireOf(
      plan([rectangle(0, 0, 60, 40)], { plate: { minX: -1, minY: -1, maxX: 61, maxY: 41 }, keepOuts: [] }),
    );
    expect(wire.startHoles[0]!.fromEdge).toBe(true);
    expect(
      wire.startHoles[0]!.at.y < -1 ||
        wire.startHoles[0]!.at.x < -1 ||
        wire.startHoles[0]!.at.x > 61 ||
        wire.startHoles[0]!.at.y > 41,
    ).toBe(true);
  });
});

it('gives the same plan for the same input, frozen', () => {
  const drawn = [rectangle(0, 0, 60, 40), circle(20, 20, 6)];
  const a = plan(drawn);
  expect(JSON.stringify(a)).toBe(JSON.stringify(plan(drawn)));
  expect(Object.isFrozen(a)).toBe(true);
  expect(Object.isFrozen(wireOf(a).steps[0])).toBe(true);
});
