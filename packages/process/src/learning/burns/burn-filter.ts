import { lnGamma } from '../special-functions.js';
import { type Burn, EFFECT_KINDS, type EffectKind, levelsOfBurn, logRatio } from './burn.js';
import { EffectIndex } from './effect-index.js';
import type { Spreads } from './spreads.js';

/** Degrees of freedom of a burn's noise: interrupted and mistyped burns are part of the log. */
export const NOISE_FREEDOM = 5;

/** Forecast of ln(actual/predicted): Student-t with {@link NOISE_FREEDOM}. */
export interface BurnForecast {
  readonly location: number;
  readonly scale: number;
  /** Share of the variance that further burns can take away. */
  readonly knowable: number;
}

/** An effect as learnt so far. */
export interface Effect {
  readonly kind: EffectKind;
  readonly name: string;
  /** On the log scale: 0.1 means 10 % longer than the book says. */
  readonly mean: number;
  readonly sd: number;
  readonly burns: number;
}

const LOG_T_NORM =
  lnGamma((NOISE_FREEDOM + 1) / 2) - lnGamma(NOISE_FREEDOM / 2) - 0.5 * Math.log(NOISE_FREEDOM * Math.PI);

/**
 * Joint normal belief about all effects, updated burn by burn (a Kalman filter in covariance form). Machines wander between
 * burns. A burn far from its forecast counts less (scale mixture weight of Student-t noise). One update costs the square of the
 * number of effects, whatever the number of burns behind it.
 */
export class BurnFilter {
  private readonly counts: number[] = [];
  private size = 0;
  private capacity = 32;
  private mean = new Float64Array(32);
  private cov = new Float64Array(32 * 32);
  private readonly lastDay = new Map<number, number>();
  private seen = 0;
  private logScore = 0;

  constructor(
    readonly spreads: Spreads,
    private readonly index = new EffectIndex(),
    /** Degrees of freedom of the noise; infinite for normal noise, where every burn counts in full. */
    private readonly freedom = NOISE_FREEDOM,
  ) {}

  /** Burns taken in. */
  get burns(): number {
    return this.seen;
  }

  /** Sum of the log densities that the burns had before they were taken in. */
  get logLikelihood(): number {
    return this.logScore;
  }

  /** Asks without learning: nothing in the filter changes. */
  forecast(burn: Burn): BurnForecast {
    const levels = levelsOfBurn(burn);
    const known: number[] = [];
    let open = 0;
    for (const kind of EFFECT_KINDS) {
      const i = this.numberOf(kind, levels[kind]);
      if (i === undefined) open += this.spreads.effects[kind] ** 2;
      else known.push(i);
      if (kind === 'machine' && i !== undefined) open += this.daysSince(i, burn) * this.spreads.wander ** 2;
    }
    return this.forecastAt(known, open);
  }

  /** Takes a burn in and returns the forecast it had before. */
  observe(burn: Burn): BurnForecast {
    const at = this.rows(burn);
    this.wander(burn, at);
    const before = this.forecastAt(at, 0);
    const residual = logRatio(burn) - before.location;
    const d2 = (residual / before.scale) ** 2;
    this.logScore += LOG_T_NORM - Math.log(before.scale) - ((NOISE_FREEDOM + 1) / 2) * Math.log1p(d2 / NOISE_FREEDOM);
    const weight = Number.isFinite(this.freedom) ? Math.min(1, (this.freedom + 1) / (this.freedom + d2)) : 1;
    this.update(at, residual, (this.spreads.noise * this.spreads.noise) / weight);
    for (const i of at) this.counts[i]!++;
    this.seen++;
    return before;
  }

  /** Lets the belief about a machine open up again, after an alarm. */
  reopen(machine: string): void {
    const i = this.numberOf('machine', machine);
    if (i !== undefined) this.cov[i * this.capacity + i]! += this.spreads.effects.machine ** 2;
  }

  /** Effects of the burns taken in. */
  effects(): readonly Effect[] {
    return this.index.names
      .slice(0, this.size)
      .map(({ kind, name }) => this.effect(kind, name))
      .filter((e) => e.burns > 0);
  }

  /** One effect; the prior when no burn of it has been seen. */
  effect(kind: EffectKind, name: string): Effect {
    const i = this.numberOf(kind, name);
    if (i === undefined) return { kind, name, mean: 0, sd: this.spreads.effects[kind], burns: 0 };
    return {
      ...{ kind, name },
      mean: this.mean[i]!,
      sd: Math.sqrt(Math.max(0, this.cov[i * this.capacity + i]!)),
      burns: this.counts[i]!,
    };
  }

  private numberOf(kind: EffectKind, name: string): number | undefined {
    const i = this.index.find(kind, name);
    return i !== undefined && i < this.size ? i : undefined;
  }

  private rows(burn: Burn): readonly number[] {
    const at = this.index.rowsOf(burn);
    const needed = this.index.names.length;
    if (needed > this.size) {
      while (needed > this.capacity) this.grow();
      for (let i = this.size; i < needed; i++) {
        this.counts.push(0);
        this.cov[i * this.capacity + i] = this.spreads.effects[this.index.names[i]!.kind] ** 2;
      }
      this.size = needed;
    }
    return at;
  }

  private grow(): void {
    const old = this.capacity;
    this.capacity *= 2;
    const mean = new Float64Array(this.capacity);
    const cov = new Float64Array(this.capacity * this.capacity);
    mean.set(this.mean);
    for (let i = 0; i < old; i++) cov.set(this.cov.subarray(i * old, i * old + old), i * this.capacity);
    this.mean = mean;
    this.cov = cov;
  }

  private daysSince(machine: number, burn: Burn): number {
    return Math.max(0, burn.day - (this.lastDay.get(machine) ?? burn.day));
  }

  private wander(burn: Burn, at: readonly number[]): void {
    const i = at[EFFECT_KINDS.indexOf('machine')]!;
    this.cov[i * this.capacity + i]! += this.daysSince(i, burn) * this.spreads.wander * this.spreads.wander;
    this.lastDay.set(i, Math.max(burn.day, this.lastDay.get(i) ?? burn.day));
  }

  private forecastAt(at: readonly number[], open: number): BurnForecast {
    let location = 0;
    let variance = open;
    for (const i of at) {
      location += this.mean[i]!;
      for (const j of at) variance += this.cov[i * this.capacity + j]!;
    }
    const noise = this.spreads.noise * this.spreads.noise;
    return { location, scale: Math.sqrt(variance + noise), knowable: variance / (variance + noise) };
  }

  private update(at: readonly number[], residual: number, noise: number): void {
    const { size: n, capacity: c, cov, mean } = this;
    const gain = new Float64Array(n);
    for (const j of at) {
      const row = j * c;
      for (let i = 0; i < n; i++) gain[i]! += cov[row + i]!;
    }
    let variance = noise;
    for (const i of at) variance += gain[i]!;
    const step = residual / variance;
    for (let i = 0; i < n; i++) {
      mean[i]! += gain[i]! * step;
      const share = gain[i]! / variance;
      if (share === 0) continue;
      const row = i * c;
      for (let j = 0; j < n; j++) cov[row + j]! -= share * gain[j]!;
    }
  }
}
