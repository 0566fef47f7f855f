import { conformalLevel } from '../conformal.js';
import { studentCdf, studentQuantile } from '../special-functions.js';
import { type Burn, logRatio } from './burn.js';
import { BurnFilter, type BurnForecast, type Effect, NOISE_FREEDOM } from './burn-filter.js';
import { Cusum, type DriftAlarm, DriftWatch } from './drift-alarm.js';
import { fitSpreads } from './fit-spreads.js';
import { type Spreads, STARTING_SPREADS } from './spreads.js';

/** Forecast of one burn in minutes. */
export interface BurnTimeForecast {
  readonly medianMin: number;
  readonly interval80: { readonly low: number; readonly high: number };
  readonly interval95: { readonly low: number; readonly high: number };
  readonly belief: BurnForecast;
}

/** Past forecasts that decide how wide intervals are; older ones may be of another shop. */
const MISSES_KEPT = 400;
/** Pseudo misses of the model itself that stand in until there are real ones. */
const PSEUDO_MISSES = 20;

/** Everything learnt from a shop's burns so far. Forecast, then take the burn in, in the order of the days. */
export class BurnBook {
  private filter: BurnFilter;
  private readonly taken: Burn[] = [];
  private misses: number[] = [];
  private readonly sums = new Map<string, Cusum>();
  private readonly watches = new Map<string, DriftWatch>();
  private readonly raised: DriftAlarm[] = [];

  constructor(spreads: Spreads = STARTING_SPREADS) {
    this.filter = new BurnFilter(spreads);
  }

  get burns(): number {
    return this.taken.length;
  }

  get spreads(): Spreads {
    return this.filter.spreads;
  }

  get alarms(): readonly DriftAlarm[] {
    return this.raised;
  }

  effects(): readonly Effect[] {
    return this.filter.effects();
  }

  effect(kind: Effect['kind'], name: string): Effect {
    return this.filter.effect(kind, name);
  }

  forecast(burn: Burn): BurnTimeForecast {
    const belief = this.filter.forecast(burn);
    const interval = (level: number): { low: number; high: number } => {
      const used = conformalLevel(this.misses, level, PSEUDO_MISSES);
      const reach = belief.scale * studentQuantile(0.5 + used / 2, NOISE_FREEDOM);
      return {
        low: burn.predictedMin * Math.exp(belief.location - reach),
        high: burn.predictedMin * Math.exp(belief.location + reach),
      };
    };
    const medianMin = burn.predictedMin * Math.exp(belief.location);
    return { medianMin, interval80: interval(0.8), interval95: interval(0.95), belief };
  }

  /** Takes one burn in. Costs the same whatever the number of burns before it. */
  add(burn: Burn): void {
    const before = this.filter.observe(burn);
    this.taken.push(burn);
    const d = (logRatio(burn) - before.location) / before.scale;
    this.misses.push(Math.abs(2 * studentCdf(d, NOISE_FREEDOM) - 1));
    if (this.misses.length > MISSES_KEPT) this.misses = this.misses.slice(-MISSES_KEPT);
    this.watch(burn, d, before.scale);
  }

  /** Finds the spreads anew from all burns and takes every burn in again under them. */
  refit(): void {
    const spreads = fitSpreads(this.taken, this.filter.spreads);
    const filter = new BurnFilter(spreads);
    const misses: number[] = [];
    for (const burn of this.taken) {
      const before = filter.observe(burn);
      const d = (logRatio(burn) - before.location) / before.scale;
      misses.push(Math.abs(2 * studentCdf(d, NOISE_FREEDOM) - 1));
    }
    this.filter = filter;
    this.misses = misses.slice(-MISSES_KEPT);
  }

  private watch(burn: Burn, sds: number, scale: number): void {
    const { machine, day } = burn;
    const atBurn = this.taken.length - 1;
    const jump = entry(this.sums, machine, () => new Cusum()).add(sds);
    if (jump !== null) {
      this.raised.push({ machine, kind: 'jump', atBurn, day, change: jump * scale });
      this.filter.reopen(machine);
    }
    const effect = this.filter.effect('machine', machine);
    const drift = entry(this.watches, machine, () => new DriftWatch()).add(effect.mean, effect.sd);
    if (drift !== null) this.raised.push({ machine, kind: 'drift', atBurn, day, change: drift });
  }
}

function entry<T>(map: Map<string, T>, key: string, make: () => T): T {
  let value = map.get(key);
  if (value === undefined) {
    value = make();
    map.set(key, value);
  }
  return value;
}
