import {
  BugError,
  type Figure,
  given,
  type Problem,
  problem,
  type Result,
  STATED_FOR_JOB,
  type Unit,
} from '@gapwright/base';
import { judgeCeiling } from '../ceiling.js';
import { meanGapPower, pulseEnergy, thermalLength } from '../discharge.js';
import { ceilingShare, meltEnergy, removalCeiling } from '../energy.js';
import type { Material } from '../shop-book.js';
import { farOutside } from '../validity.js';
import { allowedCurrent, ELECTRODES, type ElectrodeKind, workGroupOf } from './electrode.js';
import { meanRectangularCurrent, pulseFrequency } from './pulse-train.js';
import {
  elapsedMin,
  frontGap,
  jumpShare,
  meltShare,
  raWithGrain,
  sideGap,
  sinkingBurnMin,
  sinkingRa,
  sinkingRecast,
  sinkingRemoval,
  wallTaper,
} from './sinking-laws.js';
import { cornerWear, endWear, volumetricWear } from './wear.js';

/** One generator setting. Bare numbers count as stated for the job. */
export interface SinkingSetting {
  /** Voltage while the spark burns, V; set by the material pair, about 20 to 30. */
  readonly gapVoltageV: number;
  /** Open voltage before ignition, V. */
  readonly openVoltageV: number;
  readonly currentA: number;
  readonly onTimeUs: number;
  readonly offTimeUs: number;
  /** Sign of the tool. Words such as "straight" differ by author, so the sign is stated. */
  readonly toolPolarity: 'positive' | 'negative';
}

/** What is asked of {@link estimateSinking}. */
export interface SinkingQuery {
  readonly material: Material;
  readonly electrode: ElectrodeKind;
  readonly setting: SinkingSetting;
  /** Eroding area seen in the feed direction, mm². */
  readonly frontalAreaMm2: number;
  readonly depthMm: number;
  /** Volume to burn at this setting, mm³; default area times depth. */
  readonly volumeMm3?: number;
}

/** What one setting does. All figures; those of one material share its doubts. */
export interface SinkingEstimate {
  readonly pulseEnergyMj: Figure;
  readonly meanCurrentA: Figure;
  readonly allowedCurrentA: Figure;
  readonly powerW: Figure;
  readonly removalMm3PerMin: Figure;
  readonly ceilingShare: Figure;
  readonly raUm: Figure;
  readonly sideGapMm: Figure;
  readonly frontGapMm: Figure;
  readonly wallTaperUm: Figure;
  readonly recastUm: Figure;
  /** Electrode volume per work volume. */
  readonly wearRatio: Figure;
  readonly endWearMm: Figure;
  readonly cornerWearMm: Figure;
  readonly jumpShare: Figure;
  readonly burnMin: Figure;
  /** With jumping, min. */
  readonly elapsedMin: Figure;
}

const stated = (value: number, unit: Unit, says: string): Figure => {
  if (!(value > 0) || !Number.isFinite(value))
    throw new BugError(`${says} must be a positive number of ${unit}, got ${value}`);
  return given(value, unit, says, STATED_FOR_JOB);
};

/**
 * Estimates one setting of die sinking. `value` is null on a stop: `PROCESS-NOT-CONDUCTIVE`, `SINKING-NO-FIGURES` (no
 * sinking figures for this work material), `PROCESS-FAR-OUTSIDE`, `PROCESS-ABOVE-CEILING`. Warns `SINKING-CURRENT-DENSITY`
 * above the allowed current density, `SINKING-AVOID-PAIR` for graphite on carbide, `PROCESS-OUTSIDE-RANGE`,
 * `PROCESS-NEAR-CEILING`. Throws a BugError for numbers that are not positive.
 */
export function estimateSinking(query: SinkingQuery): Result<SinkingEstimate> {
  const { material, electrode, setting } = query;
  const problems: Problem[] = [];
  const group = workGroupOf(material);
  if (!material.isConductive || group === null) {
    const conducts = material.isConductive;
    const code = conducts ? 'SINKING-NO-FIGURES' : 'PROCESS-NOT-CONDUCTIVE';
    const what = conducts
      ? `There are no sinking figures for ${material.name}`
      : `${material.name} does not conduct, so it cannot be spark-eroded`;
    const fix = conducts ? 'Put measured points into the technology book' : 'Choose another process';
    return { value: null, problems: [problem({ code, severity: 'stop', what, fix })] };
  }
  const onTime = stated(setting.onTimeUs, 'us', 'On-time');
  const offTime = stated(setting.offTimeUs, 'us', 'Off-time');
  const current = stated(setting.currentA, 'A', 'Pulse current');
  const voltage = stated(setting.gapVoltageV, 'V', 'Gap voltage');
  const area = stated(query.frontalAreaMm2, 'mm2', 'Frontal area');
  const depth = stated(query.depthMm, 'mm', 'Depth');
  const volume = stated(query.volumeMm3 ?? query.frontalAreaMm2 * query.depthMm, 'mm3', 'Volume');

  const energy = pulseEnergy(voltage, current, onTime);
  const meanCurrent = meanRectangularCurrent(current, onTime, pulseFrequency(onTime, offTime));
  const power = meanGapPower(voltage, meanCurrent);
  const allowed = allowedCurrent(electrode, group, area);
  const ceiling = removalCeiling(material, power);

  const share = meltShare(energy, material.id);
  const ra = sinkingRa(energy, meltEnergy(material), material.id);
  const gap = sideGap(stated(setting.openVoltageV, 'V', 'Open voltage'), energy, material.id);
  problems.push(...new Map([share, ra, gap].flatMap((r) => r.problems).map((p) => [p.message, p])).values());
  if (share.value === null || ra.value === null || gap.value === null) return { value: null, problems };

  const removal = sinkingRemoval(share.value, ceiling);
  const ofCeiling = ceilingShare(removal, ceiling);
  const subject = `${setting.currentA} A with ${setting.onTimeUs} µs in ${material.id}`;
  problems.push(...judgeCeiling(ofCeiling, subject), ...pairProblems(query, group, meanCurrent, allowed));
  if (ofCeiling.value > 1) return { value: null, problems };

  const { grainUm } = ELECTRODES[electrode];
  const wear = volumetricWear(electrode, group, onTime, setting.toolPolarity);
  const jump = jumpShare(depth, area);
  const burnMin = sinkingBurnMin(volume, removal);
  const value: SinkingEstimate = Object.freeze({
    pulseEnergyMj: energy,
    meanCurrentA: meanCurrent,
    allowedCurrentA: allowed,
    powerW: power,
    removalMm3PerMin: removal,
    ceilingShare: ofCeiling,
    raUm: grainUm === null ? ra.value : raWithGrain(ra.value, grainUm),
    sideGapMm: gap.value,
    frontGapMm: frontGap(gap.value),
    wallTaperUm: wallTaper(depth),
    recastUm: sinkingRecast(thermalLength(material, onTime), material.id),
    wearRatio: wear,
    endWearMm: endWear(wear, depth),
    cornerWearMm: cornerWear(wear, depth),
    jumpShare: jump,
    burnMin,
    elapsedMin: elapsedMin(burnMin, jump),
  });
  const far = farOutside([value.wallTaperUm, value.wearRatio, value.jumpShare, value.elapsedMin]);
  return far.length > 0 ? { value: null, problems: [...problems, ...far] } : { value, problems };
}

/** Mean current below which sparks hardly hold, A. Common practice says 1 to 3. */
const LEAST_USEFUL_CURRENT_A = 1;

function pairProblems(
  { electrode, frontalAreaMm2 }: SinkingQuery,
  group: string,
  mean: Figure,
  allowed: Figure,
): Problem[] {
  const problems: Problem[] = [];
  if (electrode === 'graphite' && group === 'carbide') {
    const what = 'Graphite arcs on carbide and wears as much as the work';
    const fix = 'Use copper-tungsten, or copper with short pulses';
    problems.push(problem({ code: 'SINKING-AVOID-PAIR', severity: 'warn', what, fix }));
  }
  if (mean.value > allowed.value) {
    const what = `${mean.value.toFixed(1)} A over ${frontalAreaMm2} mm² is more than the ${allowed.value.toFixed(1)} A that ${electrode} on ${group} usually takes`;
    const fix = 'Lower the current or the duty until the full area burns, or it arcs';
    problems.push(problem({ code: 'SINKING-CURRENT-DENSITY', severity: 'warn', what, fix }));
  } else if (allowed.value < LEAST_USEFUL_CURRENT_A) {
    const what = `${frontalAreaMm2} mm² allows only ${allowed.value.toFixed(2)} A; below ${LEAST_USEFUL_CURRENT_A} A sparks hardly hold`;
    const fix = 'Expect slow, unsteady burning; burn a test piece';
    problems.push(problem({ code: 'SINKING-AREA-SMALL', severity: 'warn', what, fix }));
  }
  return problems;
}
