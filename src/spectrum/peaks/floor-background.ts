/**
 * The background of an axis that the floor drives: the spectrum that the floor as fitted gives through the dolly, averaged over every place
 * that its notches may have, times a slow factor for what the model lacks. (Unit of the series)^2 per Hz.
 */
import { alarmLimits, type LimitOf } from './alarm-limits.js';
import { valueAt, type Background } from './background.js';
import type { FloorModel } from './floor-model.js';
import { expectedOf, lnFreqOver } from './level-and-noise.js';
import { fitNotches, type Lift } from './notch-fit.js';
import { runningLevel } from './running-level.js';
import type { TaperSpectra } from './taper-spectra.js';

/** Fits the floor and gives its background. @param lift of a resonance between floor and lens; null without */
export function floorBackground(spectra: TaperSpectra, model: FloorModel, lift: Lift | null): Background {
  const { steady, line, durationS, bandHz } = spectra;
  const { levels, allowed, weights, best, phase } = fitNotches(spectra, model, lift);
  const expected = (
    freqHz: Float64Array,
    noise: Float64Array,
    floorAt: (k: number) => Float64Array,
  ): Float64Array[] => {
    const lnFreq = lnFreqOver(freqHz, bandHz);
    const lifts = freqHz.map((f) => lift?.(f) ?? 1);
    return allowed.map((k) =>
      expectedOf({ floor: floorAt(k).map((a, i) => a * lifts[i]), noise, lnFreq }, levels),
    );
  };
  const limits = alarmLimits(spectra);
  const ofSteady = overPlaces(
    expected(steady.freqHz, model.steadyNoise, model.steadyFloor),
    weights,
    limits.steady,
  );
  const factor = runningLevel(
    spectra,
    steady.psd.map((s, i) => s / ofSteady.mean[i]),
  );
  const lineHz = model.lineNoise.map((_, i) => i / durationS);
  const ofLine = overPlaces(expected(lineHz, model.lineNoise, model.lineFloor), weights, limits.line);
  const onLine = (bins: Float64Array): Float64Array =>
    line.freqHz.map((f) => valueAt(lineHz, bins, f) * valueAt(steady.freqHz, factor, f));
  return {
    kind: 'floor',
    steady: ofSteady.mean.map((e, i) => e * factor[i]),
    line: onLine(ofLine.mean),
    steadyLimit: ofSteady.limit.map((e, i) => e * factor[i]),
    lineLimit: onLine(ofLine.limit),
    phase,
    phaseOffset: best,
  };
}

/** Mean level and limit of each bin over the places of the notches. */
function overPlaces(
  columns: readonly Float64Array[],
  weights: Float64Array,
  limitOf: LimitOf,
): { mean: Float64Array; limit: Float64Array } {
  const levels = new Float64Array(columns.length);
  const mean = new Float64Array(columns[0].length);
  const limit = new Float64Array(columns[0].length);
  for (let i = 0; i < mean.length; i++) {
    for (let k = 0; k < levels.length; k++) {
      levels[k] = columns[k][i];
      mean[i] += weights[k] * levels[k];
    }
    limit[i] = limitOf(levels, weights);
  }
  return { mean, limit };
}
