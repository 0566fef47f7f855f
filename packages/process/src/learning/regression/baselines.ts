import { crpsLogNormal, crpsNormal, meanOf } from '../scores.js';
import { fitBlocks, leaveOneOut, sumsOf } from './block-model.js';
import { featureMaps, type Inputs } from './features.js';
import { MOST_LOG_SD, type Scale } from './mixture.js';
import { scaledResponse } from './response.js';

/** Leave-one-out scores in the response's unit. */
export interface Score {
  /** Mean distance of the forecast's median from the observation. */
  readonly mae: number;
  readonly crps: number;
}

export interface Baselines {
  /** Mean and standard deviation of the other rows, normal. */
  readonly mean: Score;
  /** Least squares of ln response on ln inputs of the other rows, log-normal; plain values where logs do not exist. */
  readonly logLinear: Score;
}

/** The two simple forecasts that a model has to beat. Numeric inputs only; exact leave-one-out. */
export function baselines(inputs: Inputs, response: Float64Array): Baselines {
  const all = new Float64Array(inputs.rows).fill(1);
  const maps = featureMaps({ ...inputs, groups: [] }, true);
  const isLog = response.every((v) => v > 0);
  const score = (map: number, scale: Scale): Score => {
    const design = maps[Math.min(map, maps.length - 1)]!.designs[0]!;
    const scaled = scaledResponse(response, scale);
    const forecasts = scaled.back(leaveOneOut(fitBlocks(sumsOf(design, scaled.values, all), [])));
    const { location, scale: spread } = forecasts;
    const isLogScale = scale === 'log';
    const crps = response.map((y, i) =>
      isLogScale
        ? crpsLogNormal(y, location[i]!, Math.min(spread[i]!, MOST_LOG_SD))
        : crpsNormal(y, location[i]!, spread[i]!),
    );
    const miss = response.map((y, i) => Math.abs(y - (isLogScale ? Math.exp(location[i]!) : location[i]!)));
    return { mae: meanOf(miss), crps: meanOf(crps) };
  };
  return { mean: score(0, 'identity'), logLinear: score(1, isLog ? 'log' : 'identity') };
}
