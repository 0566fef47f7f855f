import { choleskyInPlace, logDeterminant, solveLower, solveUpper } from '../cholesky.js';

/**
 * Columns of a linear model, row by row. Columns of one block share one prior variance; block -1 is free (no prior).
 */
export interface Design {
  readonly rows: number;
  readonly columns: number;
  readonly cells: Float64Array;
  readonly blockOf: Int32Array;
  readonly blockCount: number;
}

/** Weighted sums that every fit with the same rows and weights shares. */
export interface Sums {
  readonly design: Design;
  readonly y: Float64Array;
  /** 0 leaves a row out. */
  readonly weights: Float64Array;
  readonly gram: Float64Array;
  readonly moment: Float64Array;
  readonly square: number;
  readonly used: number;
}

export function sumsOf(design: Design, y: Float64Array, weights: Float64Array): Sums {
  const { rows, columns: p, cells } = design;
  const gram = new Float64Array(p * p);
  const moment = new Float64Array(p);
  let square = 0;
  let used = 0;
  for (let i = 0; i < rows; i++) {
    const w = weights[i]!;
    if (w === 0) continue;
    used++;
    const at = i * p;
    const wy = w * y[i]!;
    square += wy * y[i]!;
    for (let a = 0; a < p; a++) {
      const x = cells[at + a]!;
      if (x === 0) continue;
      moment[a]! += wy * x;
      const wx = w * x;
      const row = a * p;
      for (let b = 0; b <= a; b++) gram[row + b]! += wx * cells[at + b]!;
    }
  }
  return { design, y, weights, gram, moment, square, used };
}

/** A fit at given block precisions (relative to the noise precision). */
export interface Fit {
  readonly sums: Sums;
  readonly precisions: readonly number[];
  readonly factor: Float64Array;
  readonly isOff: Uint8Array;
  readonly coefficients: Float64Array;
  /** Residual quadratic form of the marginal likelihood. */
  readonly rest: number;
  /** Degrees of freedom of the noise estimate. */
  readonly freedom: number;
  readonly evidence: number;
}

/** Share of the total square below which the rest is rounding, not noise. */
const LEAST_REST = 1e-22;

/** Log-normal prior of a block's precision, in powers of ten around 1: keeps few data from running to an extreme. */
const PRECISION_SPREAD_DECADES = 2;

export function fitBlocks(sums: Sums, precisions: readonly number[]): Fit {
  const { design, gram, moment, square, used } = sums;
  const p = design.columns;
  const factor = gram.slice();
  let logPrior = 0;
  let free = 0;
  for (let a = 0; a < p; a++) {
    const block = design.blockOf[a]!;
    if (block < 0) free++;
    else {
      const precision = precisions[block]!;
      factor[a * p + a]! += precision;
      logPrior += Math.log(precision);
    }
  }
  const isOff = new Uint8Array(p);
  choleskyInPlace(factor, p, isOff);
  for (let a = 0; a < p; a++) if (isOff[a] === 1 && design.blockOf[a]! < 0) free--;
  const half = moment.slice();
  for (let a = 0; a < p; a++) if (isOff[a] === 1) half[a] = 0;
  solveLower(factor, p, half);
  let explained = 0;
  for (let a = 0; a < p; a++) explained += half[a]! * half[a]!;
  const rest = Math.max(square - explained, LEAST_REST * square + Number.MIN_VALUE);
  solveUpper(factor, p, half);
  for (let a = 0; a < p; a++) if (isOff[a] === 1) half[a] = 0;
  const freedom = used - free;
  let evidence = 0.5 * logPrior - 0.5 * logDeterminant(factor, p) - 0.5 * Math.max(freedom, 1) * Math.log(rest);
  for (const precision of precisions) {
    const decades = Math.log10(precision) / PRECISION_SPREAD_DECADES;
    evidence -= 0.5 * decades * decades;
  }
  return { sums, precisions, factor, isOff, coefficients: half, rest, freedom, evidence };
}

/** Steps of the search over precisions, in powers of ten. */
const SEARCH_STEPS = [1.5, 0.75, 0.35];
const SEARCH_LIMIT_DECADES = 5;

/** Block precisions of greatest evidence, by coordinate search from `start`. */
function fitByEvidence(sums: Sums, start?: readonly number[]): { fit: Fit; precisions: number[] } {
  const decades = (start ?? new Array<number>(sums.design.blockCount).fill(1)).map((v) => Math.log10(v));
  const at = (d: readonly number[]): Fit =>
    fitBlocks(
      sums,
      d.map((v) => 10 ** v),
    );
  let best = at(decades);
  for (const step of SEARCH_STEPS) {
    for (let isMoving = decades.length > 0, round = 0; isMoving && round < 4; round++) {
      isMoving = false;
      for (let b = 0; b < decades.length; b++) {
        for (const direction of [-step, step]) {
          for (;;) {
            const tried = decades.slice();
            tried[b] = tried[b]! + direction;
            if (Math.abs(tried[b]!) > SEARCH_LIMIT_DECADES) break;
            const fit = at(tried);
            if (!(fit.evidence > best.evidence)) break;
            best = fit;
            decades[b] = tried[b]!;
            isMoving = true;
          }
        }
      }
    }
  }
  return { fit: best, precisions: decades.map((v) => 10 ** v) };
}

/** A fit with its share in an average over precisions that the data cannot tell apart. */
export interface SharedFit {
  readonly fit: Fit;
  readonly precisions: readonly number[];
  readonly share: number;
}

/** Distance of the neighbours in the average, in powers of ten: about one posterior sd of a precision in few data. */
const NEIGHBOUR_DECADES = 1;
/** With more rows than this the precisions are known and one fit speaks for all. */
const MOST_AVERAGED_ROWS = 300;
/** Neighbours with a smaller share than this change nothing. */
const LEAST_SHARE = 0.02;

/**
 * Fits around the best precisions of each design, with shares by evidence. Few rows leave precisions (and the length scale that
 * tells the designs apart) wide open; averaging keeps a forecast from being surer than the data allow.
 */
export function averagedFits(sums: readonly Sums[]): readonly SharedFit[] {
  const found: { fit: Fit; precisions: readonly number[] }[] = [];
  for (const s of sums) {
    const best = fitByEvidence(s);
    found.push(best);
    if (s.used > MOST_AVERAGED_ROWS) continue;
    best.precisions.forEach((v, b) => {
      for (const direction of [-NEIGHBOUR_DECADES, NEIGHBOUR_DECADES]) {
        const precisions = best.precisions.slice();
        precisions[b] = v * 10 ** direction;
        found.push({ fit: fitBlocks(s, precisions), precisions });
      }
    });
  }
  const top = Math.max(...found.map((f) => f.fit.evidence));
  const raw = found.map((f) => Math.exp(f.fit.evidence - top));
  const sum = raw.reduce((a, b) => a + b, 0);
  const kept = found.map((f, k) => ({ ...f, share: raw[k]! / sum })).filter((f) => f.share >= LEAST_SHARE);
  const rest = kept.reduce((a, f) => a + f.share, 0);
  return kept.map((f) => ({ ...f, share: f.share / rest }));
}

/** Leave-one-out forecasts of an average of fits, as one Student-t of the same location and spread. */
export function averagedForecasts(fits: readonly SharedFit[], only?: readonly number[]): RowForecasts {
  const each = fits.map(({ fit }) => leaveOneOut(fit, only));
  const first = each[0]!;
  if (each.length === 1) return first;
  const location = new Float64Array(first.location.length);
  const scale = new Float64Array(first.scale.length);
  each.forEach((f, k) => {
    for (let i = 0; i < location.length; i++) location[i]! += fits[k]!.share * f.location[i]!;
  });
  each.forEach((f, k) => {
    for (let i = 0; i < scale.length; i++) {
      const off = f.location[i]! - location[i]!;
      scale[i]! += fits[k]!.share * (f.scale[i]! * f.scale[i]! + off * off);
    }
  });
  for (let i = 0; i < scale.length; i++) scale[i] = Math.sqrt(scale[i]!);
  return { location, scale, freedom: first.freedom };
}

/** Student-t forecasts of every row from all the other rows with weight: location, scale, and one number of degrees of freedom. */
export interface RowForecasts {
  readonly location: Float64Array;
  readonly scale: Float64Array;
  readonly freedom: number;
}

/** A row of leverage 1 alone decides a coefficient: the closed form divides by nothing, and the fit is made again without it. */
const LEAST_OPENNESS = 1e-6;

/**
 * Exact leave-one-out forecasts in closed form: the row's own share is taken out of the fit. Rows of weight 0 were never in it.
 * `only` limits the work to some rows.
 */
export function leaveOneOut(fit: Fit, only?: readonly number[]): RowForecasts {
  const { sums, factor, isOff, coefficients, rest, freedom } = fit;
  const { design, y, weights } = sums;
  const { rows, columns: p, cells } = design;
  const location = new Float64Array(rows);
  const scale = new Float64Array(rows);
  const v = new Float64Array(p);
  const left = Math.max(freedom - 1, 1);
  const count = only?.length ?? rows;
  for (let k = 0; k < count; k++) {
    const i = only === undefined ? k : only[k]!;
    let fitted = 0;
    for (let a = 0; a < p; a++) {
      const x = isOff[a] === 1 ? 0 : cells[i * p + a]!;
      v[a] = x;
      fitted += x * coefficients[a]!;
    }
    solveLower(factor, p, v);
    let spread = 0;
    for (let a = 0; a < p; a++) spread += v[a]! * v[a]!;
    const w = weights[i]!;
    if (w === 0) {
      location[i] = fitted;
      scale[i] = Math.sqrt((rest / Math.max(freedom, 1)) * (1 + spread));
      continue;
    }
    const own = 1 - w * spread;
    if (own < LEAST_OPENNESS) {
      const weightsWithout = weights.slice();
      weightsWithout[i] = 0;
      const without = leaveOneOut(fitBlocks(sumsOf(design, y, weightsWithout), fit.precisions), [i]);
      location[i] = without.location[i]!;
      scale[i] = without.scale[i]!;
      continue;
    }
    const residual = y[i]! - fitted;
    location[i] = y[i]! - residual / own;
    const restWithout = Math.max(rest - (w * residual * residual) / own, LEAST_REST * sums.square + Number.MIN_VALUE);
    scale[i] = Math.sqrt((restWithout / left) * (1 + spread / own));
  }
  return { location, scale, freedom: left };
}
