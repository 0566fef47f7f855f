import type { RowForecasts } from './block-model.js';
import type { Scale } from './mixture.js';

/** The response on one scale, moved and stretched to mean 0 and sd 1 for arithmetic's sake. Fits do not depend on either. */
export interface ScaledResponse {
  readonly scale: Scale;
  readonly values: Float64Array;
  /** Forecasts of `values` brought back to the scale's own unit. */
  back(forecasts: RowForecasts): RowForecasts;
}

/** How far beyond the observed range a forecast may lie, in its standard deviations, before it is held: ends overflow of exp. */
const FARTHEST_SDS = 30;

export function scaledResponse(response: Float64Array, scale: Scale): ScaledResponse {
  const raw = scale === 'log' ? response.map((v) => Math.log(v)) : response;
  const n = raw.length;
  let mean = 0;
  for (const v of raw) mean += v / n;
  let square = 0;
  for (const v of raw) square += ((v - mean) * (v - mean)) / n;
  const sd = Math.sqrt(square) || 1;
  const held = (v: number): number => Math.min(FARTHEST_SDS, Math.max(-FARTHEST_SDS, v));
  return {
    scale,
    values: raw.map((v) => (v - mean) / sd),
    back: ({ location, scale: spread, freedom }) => ({
      location: location.map((v) => held(v) * sd + mean),
      scale: spread.map((v) => v * sd),
      freedom,
    }),
  };
}
