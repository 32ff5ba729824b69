/** Transform of the light of each band, stretch by stretch, and its power under a phase that steps from band to band. */
import { realFft, sineTapers, type ComplexColumns } from '../../numerics/index.js';
import type { LightSeries } from './light-series.js';

/** Longest stretch that is transformed as a whole, s: mains wander by some hundredths of a hertz, and a longer one would smear them. */
const LONGEST_STRETCH_S = 30;
/** Bins for each 1 / T, at least: fine enough to stand on the top of a line. */
const FINENESS = 4;

/** The transformed light of one clip. */
export interface LightSpectrum {
  readonly rateHz: number;
  readonly binHz: number;
  /** Frames of a stretch, and how many stretches there are. */
  readonly frames: number;
  readonly stretches: number;
  readonly bandCount: number;
  /** Power over amplitude squared of a line on its top: (sum of the taper / 2)^2. */
  readonly linePower: number;
  /** For each stretch, for each band: white noise of variance 1 has mean power 1 in every bin. */
  readonly transforms: readonly (readonly ComplexColumns[])[];
}

/** Transforms the light: equal stretches of at most 30 s, one sine taper. */
export function lightSpectrum({ rateHz, bands }: LightSeries): LightSpectrum {
  const length = bands[0].length;
  const stretches = Math.ceil(length / rateHz / LONGEST_STRETCH_S);
  const frames = Math.floor(length / stretches);
  let size = 1;
  while (size < FINENESS * frames) size *= 2;
  const [taper] = sineTapers(frames, 1);
  const transforms = Array.from({ length: stretches }, (_, s) =>
    bands.map((band) =>
      realFft(
        taper.map((weight, i) => weight * band[s * frames + i]),
        size,
      ),
    ),
  );
  return {
    rateHz,
    binHz: rateHz / size,
    frames,
    stretches,
    bandCount: bands.length,
    linePower: (taper.reduce((sum, weight) => sum + weight, 0) / 2) ** 2,
    transforms,
  };
}

/** Length of a stretch, s. */
export function stretchS({ frames, rateHz }: LightSpectrum): number {
  return frames / rateHz;
}

/** Half the width of a line under one sine taper, 1.5 / T, Hz: bins so far apart are independent. */
export function lineHz(light: LightSpectrum): number {
  return 1.5 / stretchS(light);
}

/** Power of one band in one bin, mean over the stretches. */
export function bandPower({ transforms, stretches }: LightSpectrum, band: number, bin: number): number {
  let sum = 0;
  for (const bands of transforms) sum += bands[band].re[bin] ** 2 + bands[band].im[bin] ** 2;
  return sum / stretches;
}

/**
 * Power in one bin of the weighted mean of the bands, each turned back by its phase: what flickers with exactly that phase adds up,
 * all else averages out. Mean over the stretches.
 *
 * @param weights one for each band, sum 1
 * @param stepRad phase of the light from one band to the next below
 */
export function steppedPower(
  { transforms, stretches, bandCount }: LightSpectrum,
  bin: number,
  weights: Readonly<Float64Array>,
  stepRad: number,
): number {
  let power = 0;
  for (const bands of transforms) {
    let re = 0;
    let im = 0;
    for (let b = 0; b < bandCount; b++) {
      const cos = weights[b] * Math.cos(stepRad * b);
      const sin = weights[b] * Math.sin(stepRad * b);
      re += bands[b].re[bin] * cos + bands[b].im[bin] * sin;
      im += bands[b].im[bin] * cos - bands[b].re[bin] * sin;
    }
    power += re * re + im * im;
  }
  return power / stretches;
}
