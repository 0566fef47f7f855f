import {
  apply,
  defineLaw,
  defineSource,
  type Figure,
  given,
  type Law,
  type LawInput,
  type Problem,
  problem,
  type Result,
  type Unit,
} from '@gapwright/base';

/**
 * An input may lie outside the valid range of a law by this factor before the law is refused. Published exponents differ
 * by material and range; a power law carried further than twice its range has nothing behind it.
 */
export const FAR_FACTOR = 2;

/**
 * Log standard deviation added per unit of natural log beyond the range: at twice the range (0.69) about 0.35, so the
 * 80 % interval is then at least a factor of 1.56 either way. A judgement of this program, chosen wide.
 */
const WIDENING_PER_LOG = 0.5;

const WIDENING_ESTIMATE = defineSource({
  id: 'widening-estimate',
  title: 'Estimate of this program: doubt grows with the log distance beyond the range of a law',
  standing: 'computed',
  where: 'not measured; 0.5 per factor of e, refused beyond a factor of 2',
});

const widened = new Map<Unit, Law<'y' | 'u'>>();

function wideningLaw(unit: Unit): Law<'y' | 'u'> {
  let law = widened.get(unit);
  if (law === undefined) {
    law = defineLaw({
      id: `beyond-range-${unit}`,
      says: 'A law carried beyond the range it was made for; the interval is widened.',
      formula: 'y u',
      source: WIDENING_ESTIMATE,
      inputs: {
        y: { unit, says: 'what the law gives' },
        u: { unit: '1', says: 'doubt of carrying it so far' },
      },
      output: unit,
      evaluate: ({ y, u }) => y * u,
    });
    widened.set(unit, law);
  }
  return law;
}

/** How far an input lies beyond its range, as a natural log of the ratio (0 inside, Infinity across zero). */
export function logBeyond(value: number, [low, high]: readonly [low: number, high: number]): number {
  if (value >= low && value <= high) return 0;
  if (value > high) return high > 0 ? Math.log(value / high) : Number.POSITIVE_INFINITY;
  return value > 0 ? Math.log(low / value) : Number.POSITIVE_INFINITY;
}

/** A hair of rounding is not a different range: relative 1e-9. */
const SAME_LOG = 1e-9;

function outsideProblem(lawId: string, declared: LawInput, figure: Figure, distance: number): Problem {
  const far = distance > Math.log(FAR_FACTOR);
  const [low, high] = declared.valid!;
  const given = `${declared.says} ${Number(figure.value.toPrecision(4))} ${figure.unit}`;
  return problem({
    code: far ? 'PROCESS-FAR-OUTSIDE' : 'PROCESS-OUTSIDE-RANGE',
    severity: far ? 'stop' : 'warn',
    what: `"${lawId}" is known for ${declared.says} ${low} to ${high} ${figure.unit}; ${given} lies ${far ? 'far ' : ''}outside`,
    fix: far
      ? 'Change the setting, or put measured points for this range into the technology book'
      : 'The interval is widened; burn a test piece before relying on it',
  });
}

/**
 * Applies a law and judges how far its inputs lie outside the ranges it was made for. Inside: the plain figure. Outside by
 * less than {@link FAR_FACTOR}: a wider interval and the warning `PROCESS-OUTSIDE-RANGE`. Further: no value and the stop
 * `PROCESS-FAR-OUTSIDE`, which names the input, its range and the way out.
 */
export function applyWithin<In extends string>(
  law: Law<In>,
  inputs: Readonly<Record<In, Figure>>,
  about?: string,
): Result<Figure> {
  const problems: Problem[] = [];
  let beyond = 0;
  let tooFar = false;
  for (const name of Object.keys(inputs) as In[]) {
    const declared = law.inputs[name] as LawInput | undefined;
    if (declared?.valid === undefined) continue;
    const figure = inputs[name];
    const distance = logBeyond(figure.value, declared.valid);
    if (distance <= SAME_LOG) continue;
    tooFar ||= distance > Math.log(FAR_FACTOR);
    beyond += distance;
    problems.push(outsideProblem(law.id, declared, figure, distance));
  }
  if (tooFar) return { value: null, problems };
  const plain = apply(law, inputs, about);
  if (beyond === 0) return { value: plain, problems };
  const doubt = { relative: WIDENING_PER_LOG * beyond, cause: `beyond-range:${law.id}` };
  const u = given(1, '1', `Carried beyond the range of "${law.id}"`, WIDENING_ESTIMATE, doubt);
  return { value: apply(wideningLaw(plain.unit), { y: plain, u }), problems };
}

/**
 * Stop problems `PROCESS-FAR-OUTSIDE` for every law in the working of these figures that was carried beyond
 * {@link FAR_FACTOR} of its range. For estimates made of many laws: one look at the end instead of one at each law.
 */
export function farOutside(figures: readonly Figure[]): Problem[] {
  const found = new Map<string, Problem>();
  const seen = new Set<Figure>();
  const visit = (figure: Figure): void => {
    if (figure.reason.kind === 'given' || seen.has(figure)) return;
    seen.add(figure);
    const { law, inputs, outsideRange } = figure.reason;
    for (const name in inputs) visit(inputs[name]!);
    if (outsideRange === undefined) return;
    for (const name in inputs) {
      const declared = law.inputs[name];
      if (declared?.valid === undefined) continue;
      const distance = logBeyond(inputs[name]!.value, declared.valid);
      if (distance <= Math.log(FAR_FACTOR)) continue;
      const p = outsideProblem(law.id, declared, inputs[name]!, distance);
      found.set(p.message, p);
    }
  };
  for (const figure of figures) visit(figure);
  return [...found.values()];
}
