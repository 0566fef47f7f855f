/** A machine that no longer does what it did. */
export interface DriftAlarm {
  readonly machine: string;
  /** `jump`: burns in a row on one side of their forecasts. `drift`: the machine's effect has moved away slowly. */
  readonly kind: 'jump' | 'drift';
  /** Index of the burn that raised it. */
  readonly atBurn: number;
  readonly day: number;
  /** Change of the machine on the log scale: of its effect for a drift, mean miss since the run began for a jump. */
  readonly change: number;
}

/** Slack of the cumulative sum in standard deviations: shifts of twice this size are found fastest. */
export const CUSUM_SLACK = 0.5;
/** Sum at which the alarm is raised, in standard deviations. */
export const CUSUM_LIMIT = 6;
/** Single residuals count at most this much, so that one interrupted burn is no alarm. */
const MOST_SDS = 2.5;

/**
 * Average number of burns between false alarms of a two-sided cumulative sum on standard normal residuals
 * (Siegmund's approximation: (exp(2kb) - 2kb - 1) / 2k² one-sided, b = limit + 1.166; two sides halve it).
 */
export function averageRunLength(slack = CUSUM_SLACK, limit = CUSUM_LIMIT): number {
  const b = limit + 1.166;
  return (Math.exp(2 * slack * b) - 2 * slack * b - 1) / (2 * slack * slack) / 2;
}

/** Two-sided cumulative sum of standardised residuals. */
export class Cusum {
  private up = 0;
  private down = 0;
  private sumUp = 0;
  private sumDown = 0;
  private runUp = 0;
  private runDown = 0;

  /** Takes one residual (in standard deviations); returns the mean residual of the run when the limit is passed, else null. */
  add(residual: number): number | null {
    const r = Math.max(-MOST_SDS, Math.min(MOST_SDS, residual));
    this.up = Math.max(0, this.up + r - CUSUM_SLACK);
    this.down = Math.max(0, this.down - r - CUSUM_SLACK);
    [this.sumUp, this.runUp] = this.up > 0 ? [this.sumUp + r, this.runUp + 1] : [0, 0];
    [this.sumDown, this.runDown] = this.down > 0 ? [this.sumDown + r, this.runDown + 1] : [0, 0];
    if (this.up > CUSUM_LIMIT) return this.restart(this.sumUp / this.runUp);
    if (this.down > CUSUM_LIMIT) return this.restart(this.sumDown / this.runDown);
    return null;
  }

  private restart(meanResidual: number): number {
    this.up = this.down = this.sumUp = this.sumDown = this.runUp = this.runDown = 0;
    return meanResidual;
  }
}

/** A machine's effect after some of its burns. */
interface Snapshot {
  readonly mean: number;
  readonly sd: number;
}

/** Burns of a machine between two looks at its effect. */
const LOOK_EVERY = 10;
/** Change in its standard deviations, and on the log scale, that is worth an alarm: seen and worth acting on. */
const DRIFT_SDS = 3;
const DRIFT_LEAST = 0.08;

/** Compares a machine's effect with what it was, every ten of its burns. */
export class DriftWatch {
  private seen = 0;
  private snapshots: Snapshot[] = [];

  /** Takes the effect after one more burn; returns its change when the machine has moved away, else null. */
  add(mean: number, sd: number): number | null {
    this.seen++;
    if (this.seen % LOOK_EVERY !== 0) return null;
    for (const old of this.snapshots) {
      const change = mean - old.mean;
      if (Math.abs(change) > DRIFT_LEAST && Math.abs(change) > DRIFT_SDS * Math.sqrt(sd * sd + old.sd * old.sd)) {
        this.snapshots = [{ mean, sd }];
        return change;
      }
    }
    this.snapshots.push({ mean, sd });
    return null;
  }
}
