import { hasStop, type Problem } from '@gapwright/base';
import { findMaterial, type ShopBook } from '@gapwright/process';
import { benchOperation } from './bench-operation.js';
import { choicesOf } from './computed-choices.js';
import { deepFreeze } from './deep-freeze.js';
import type { DrawnContour, FoundFeatures } from './features.js';
import { knownDrawing } from './known-drawing.js';
import { leadProblems } from './lead-problems.js';
import { drillOperation, wireOperation } from './operations.js';
import { overrideProblems } from './override-problems.js';
import { overrule } from './overrule.js';
import { partsPerPlate } from './parts.js';
import type { ComputedChoices, Operation, Plan, WireOption, WireRequest } from './plan.js';
import { planProblems } from './plan-problems.js';
import { overruledJob, prepareJob } from './prepare-job.js';
import { requestProblems } from './request-problems.js';
import { tooSmallForTab } from './slugs.js';
import { planTotals } from './totals.js';
import { chooseWire } from './wire-choice.js';

/** Operation numbers go up in tens, as on route cards. */
const NUMBER_STEP = 10;

/**
 * Plans the wire cutting of a drawing: features, wire and machine, pass ladder, stack, plate, start holes, slugs and
 * order, with every figure's working. Pure: the same contours, request and shop book always give the same plan.
 * Bad input gives problems; a stop problem leaves `operations` empty, while `wireOptions` still say what each wire lacks.
 */
export function planWire(contours: readonly DrawnContour[], request: WireRequest, book: ShopBook): Plan {
  const material = findMaterial(book, request.materialId);
  const problems: Problem[] = requestProblems(request, material, book);
  const drawing = knownDrawing(contours, request);
  const { found } = drawing;
  problems.push(...drawing.problems);
  const overrides = request.overrides ?? {};
  problems.push(...overrideProblems(overrides, found.cut, book));
  if (material === undefined || hasStop(problems)) return finished(request, book, found, [], [], null, problems);

  const parts = partsPerPlate(found.cut);
  problems.push(...parts.problems);
  const computedJob = prepareJob(found, request, material, book, parts.count, drawing.shapes());
  const drawn = computedJob.shapes.map((s) => s.drawn);
  problems.push(...tooSmallForTab(drawn, overruledJob(computedJob, overrides, null, true).slugsOf(1)));
  if (hasStop(problems)) return finished(request, book, found, [], [], null, problems);
  const choice = overrule(computedJob, chooseWire(computedJob), overrides);
  const { job, chosen } = choice;
  problems.push(...choice.problems);
  if (chosen === null) return finished(request, book, found, [], choice.options, null, problems);
  problems.push(...planProblems(job, chosen));
  if (hasStop(problems)) return finished(request, book, found, [], choice.options, null, problems);

  const operations: Operation[] = [];
  const computed: ComputedChoices[] = [];
  const next = (): number => (operations.length + 1) * NUMBER_STEP;
  for (const [i, batch] of chosen.batches.entries()) {
    const drill = drillOperation(job, batch, next());
    if (drill !== null) operations.push(drill);
    const wire = wireOperation(job, chosen, batch, next());
    const said = new Set(problems.map((p) => p.message));
    problems.push(
      ...leadProblems(
        wire,
        found.cut.map((c) => c.feature),
        request.toleranceMm,
      ).filter((p) => !said.has(p.message)),
    );
    operations.push(wire);
    computed.push({ ...(choice.computed?.[i] ?? choicesOf(wire)), operation: wire.number });
  }
  if (hasStop(problems)) return finished(request, book, found, [], choice.options, null, problems);
  operations.push(benchOperation(job, next()));
  return finished(request, book, found, operations, choice.options, planTotals(operations), problems, computed);
}

function finished(
  request: WireRequest,
  book: ShopBook,
  found: FoundFeatures,
  operations: readonly Operation[],
  wireOptions: readonly WireOption[],
  totals: Plan['totals'],
  problems: readonly Problem[],
  computed: readonly ComputedChoices[] = [],
): Plan {
  return deepFreeze({
    request: { ...request },
    bookVersion: book.version,
    features: found.cut.map((c) => c.feature),
    operations,
    wireOptions,
    computed,
    totals,
    problems,
  });
}
