import { apply, defineLaw, type Figure, type Problem, problem, type Result } from '@gapwright/base';
import type { ShopBook } from './shop-book.js';
import { WIRE_PRACTICE } from './sources.js';

const BETWEEN = defineLaw({
  id: 'thickness-factor',
  says: 'Height factor on the area rate, read between two points of the table.',
  formula: 'f0 + (f1 − f0) (H − H0) / (H1 − H0)',
  source: WIRE_PRACTICE,
  inputs: {
    H: { unit: 'mm', says: 'burned height' },
    H0: { unit: 'mm', says: 'table height below' },
    H1: { unit: 'mm', says: 'table height above' },
    f0: { unit: '1', says: 'factor below' },
    f1: { unit: '1', says: 'factor above' },
  },
  output: '1',
  evaluate: ({ H, H0, H1, f0, f1 }) => f0 + ((f1 - f0) * (H - H0)) / (H1 - H0),
});

const THIN = defineLaw({
  id: 'thickness-factor-thin',
  says: 'Below the table the feed is held at the feed of its lowest height, so the factor falls with the height.',
  formula: 'f0 H / H0',
  source: WIRE_PRACTICE,
  inputs: {
    H: { unit: 'mm', says: 'burned height, below the table' },
    H0: { unit: 'mm', says: 'lowest table height' },
    f0: { unit: '1', says: 'factor there' },
  },
  output: '1',
  scatter: { relative: 0.2, cause: 'thickness-extrapolated' },
  evaluate: ({ H, H0, f0 }) => (f0 * H) / H0,
});

const THICK = defineLaw({
  id: 'thickness-factor-thick',
  says: 'Above the table the factor goes on falling as it does between the last two heights.',
  formula: 'f1 (H / H1)^(ln(f1 / f0) / ln(H1 / H0))',
  source: WIRE_PRACTICE,
  inputs: {
    H: { unit: 'mm', says: 'burned height, above the table' },
    H0: { unit: 'mm', says: 'last but one table height' },
    H1: { unit: 'mm', says: 'greatest table height' },
    f0: { unit: '1', says: 'factor at the last but one height' },
    f1: { unit: '1', says: 'factor at the greatest height' },
  },
  output: '1',
  scatter: { relative: 0.2, cause: 'thickness-extrapolated' },
  evaluate: ({ H, H0, H1, f0, f1 }) => f1 * (H / H1) ** (Math.log(f1 / f0) / Math.log(H1 / H0)),
});

/** Below a tenth of the lowest table height nothing is known any more. */
const REFUSE_BELOW_SHARE = 0.1;
/** Above four thirds of the greatest table height nothing is known any more. */
const REFUSE_ABOVE_SHARE = 4 / 3;

/**
 * Height factor on the area rate from the table of the shop book: linear between its points, a stated law with extra
 * doubt a little outside (problem `PROCESS-HEIGHT-OUTSIDE-TABLE`), refused far outside (`PROCESS-HEIGHT-REFUSED`).
 */
export function thicknessFactor(book: ShopBook, heightMm: Figure): Result<Figure> {
  const table = book.thicknessFactors;
  const first = table[0]!;
  const last = table[table.length - 1]!;
  const h = heightMm.value;
  const lowest = first.heightMm.value;
  const greatest = last.heightMm.value;
  if (!(h >= lowest * REFUSE_BELOW_SHARE && h <= greatest * REFUSE_ABOVE_SHARE)) {
    const what = `Burned height ${h} mm is far outside the ${lowest} to ${greatest} mm of the shop book's rate table`;
    const fix =
      h < lowest ? 'Stack the plates, or add a measured point to the table' : 'Add a measured point to the table';
    return { value: null, problems: [problem({ code: 'PROCESS-HEIGHT-REFUSED', severity: 'stop', what, fix })] };
  }
  if (h < lowest) {
    return {
      value: apply(THIN, { H: heightMm, H0: first.heightMm, f0: first.factor }),
      problems: [outside(h, lowest, greatest)],
    };
  }
  if (h > greatest) {
    const before = table[table.length - 2]!;
    return {
      value: apply(THICK, {
        H: heightMm,
        H0: before.heightMm,
        H1: last.heightMm,
        f0: before.factor,
        f1: last.factor,
      }),
      problems: [outside(h, lowest, greatest)],
    };
  }
  let k = 1;
  while (k < table.length - 1 && table[k]!.heightMm.value < h) k++;
  const below = table[k - 1]!;
  const above = table[k]!;
  return {
    value: apply(BETWEEN, {
      H: heightMm,
      H0: below.heightMm,
      H1: above.heightMm,
      f0: below.factor,
      f1: above.factor,
    }),
    problems: [],
  };
}

function outside(h: number, lowest: number, greatest: number): Problem {
  return problem({
    code: 'PROCESS-HEIGHT-OUTSIDE-TABLE',
    severity: 'warn',
    what: `Burned height ${h} mm lies outside the ${lowest} to ${greatest} mm of the shop book's rate table; the time is a guess with a wider interval`,
    fix:
      h < lowest
        ? 'Stack plates, or burn a trial and add a point to the table'
        : 'Burn a trial and add a point to the table',
  });
}
