/** One finished burn as the shop logs it. */
export interface Burn {
  /** Days since any fixed day; burns come in this order. */
  readonly day: number;
  readonly actualMin: number;
  /** What the book said before the burn. */
  readonly predictedMin: number;
  readonly material: string;
  readonly machine: string;
  /** Wire or electrode. */
  readonly tool: string;
  /** NaN when the log does not say. */
  readonly heightMm: number;
  /** Energy level or pass, e.g. `1`. */
  readonly level: string;
}

/** What can make burns of one kind slower or faster than the book says. */
export type EffectKind = 'common' | 'material' | 'machine' | 'tool' | 'height' | 'level';

export const EFFECT_KINDS: readonly EffectKind[] = ['common', 'material', 'machine', 'tool', 'height', 'level'];

/** Upper ends of the height bands, mm. Inside a band the book's own height law is trusted. */
const BAND_ENDS_MM = [10, 25, 50, 100, 200];

/** Word for a fact the log does not hold. */
export const NOT_STATED = 'not stated';

export function heightBand(heightMm: number): string {
  if (Number.isNaN(heightMm)) return NOT_STATED;
  const k = BAND_ENDS_MM.findIndex((end) => heightMm <= end);
  if (k === 0) return `up to ${BAND_ENDS_MM[0]} mm`;
  if (k < 0) return `over ${BAND_ENDS_MM.at(-1)} mm`;
  return `${BAND_ENDS_MM[k - 1]} to ${BAND_ENDS_MM[k]} mm`;
}

/** The name of the burn's level of each effect. */
export function levelsOfBurn(burn: Burn): Readonly<Record<EffectKind, string>> {
  return {
    common: 'all burns',
    material: burn.material,
    machine: burn.machine,
    tool: burn.tool,
    height: heightBand(burn.heightMm),
    level: burn.level,
  };
}

/** ln(actual / predicted). */
export function logRatio(burn: Burn): number {
  return Math.log(burn.actualMin / burn.predictedMin);
}
