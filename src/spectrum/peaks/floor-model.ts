/**
 * What both taper spectra are expected to show over a floor of roughness 1, for every place that the notches of the wheelbase may have,
 * in (unit of the series)^2 per Hz.
 */
import { CLASS_SHAPE, expectedSpectra, type ExpectedSpectra } from '../../surface/index.js';
import { STEADY_TAPERS, type TaperSpectra } from './taper-spectra.js';
import type { FloorView, SearchedSeries } from './types.js';

/** Range of speed over wheelbase that is tried, as a share of it. */
const RANGE = 0.06;
/** Widest step; and the top of the band moves by this share of a bin per step. */
const WIDEST_STEP = 0.005;
const BIN_SHARE = 0.2;
const TOP_SHARE = 0.4;

/** Expected spectra, made when they are asked for and kept. */
export interface FloorModel {
  readonly view: FloorView;
  /** Speed over wheelbase as tried, over the same as given, less 1: rising, even, 0 in the middle. */
  readonly offsets: Float64Array;
  /** Over a floor of roughness 1, on the bins of the steady spectrum, and on all bins 1 / T apart for the one taper. */
  readonly steadyFloor: (offset: number) => Float64Array;
  readonly lineFloor: (offset: number) => Float64Array;
  /** Of the measurement noise as stated, on the same bins. */
  readonly steadyNoise: Float64Array;
  readonly lineNoise: Float64Array;
}

/** Prepares the model of one axis. */
export function floorModel(
  spectra: TaperSpectra,
  series: Pick<SearchedSeries, 'cutoffHz' | 'noiseSd'>,
  view: FloorView,
): FloorModel {
  const { rateHz, partFrames, durationS, firstBin, steady } = spectra;
  const speedMps = view.speedsMps.reduce((sum, v) => sum + v, 0) / view.speedsMps.length;
  const settings = {
    rateHz,
    frameCount: partFrames,
    speedsMps: Float64Array.of(speedMps),
    dolly: { wheelbaseM: view.wheelbaseM, trackWidthM: null },
    exposureS: view.exposureS,
    cutoffHz: series.cutoffHz,
  };
  const step = Math.min(WIDEST_STEP, BIN_SHARE / (durationS * TOP_SHARE * rateHz));
  const reach = Math.round(RANGE / step);
  const offsets = Float64Array.from({ length: 2 * reach + 1 }, (_, k) => (k - reach) * step);
  const fiveTapers = expectedSpectra(settings, Math.min(STEADY_TAPERS, partFrames));
  const oneTaper = expectedSpectra(settings, 1);
  const noisePsd = (2 * series.noiseSd ** 2) / rateHz;
  const inBand = (psd: Float64Array): Float64Array => psd.slice(firstBin, firstBin + steady.psd.length);
  const floorOf = (expected: ExpectedSpectra): ((offset: number) => Float64Array) => {
    // Another speed moves the notches as another wheelbase does, so all speeds share the spectra of one.
    const atMeanSpeed = kept((steps) => {
      const notches = 1 / (1 + steps * step);
      return expected.floorsThrough(view.powerGain, CLASS_SHAPE, [view.contactCyclesPerM], notches)[0];
    });
    return kept((offset) => {
      const sum = new Float64Array(atMeanSpeed(0).length);
      for (const speed of view.speedsMps) {
        const ratio = speed / speedMps;
        const column = atMeanSpeed(Math.round(((1 + offsets[offset]) * ratio - 1) / step));
        const share = ratio / view.speedsMps.length;
        for (let i = 0; i < sum.length; i++) sum[i] += share * column[i];
      }
      return sum;
    });
  };
  const fiveFloor = floorOf(fiveTapers);
  return {
    view,
    offsets,
    steadyFloor: kept((offset) => inBand(fiveFloor(offset))),
    lineFloor: floorOf(oneTaper),
    steadyNoise: inBand(fiveTapers.noise).map((n) => n * noisePsd),
    lineNoise: oneTaper.noise.map((n) => n * noisePsd),
  };
}

function kept(make: (offset: number) => Float64Array): (offset: number) => Float64Array {
  const made = new Map<number, Float64Array>();
  return (offset) => {
    const known = made.get(offset) ?? make(offset);
    made.set(offset, known);
    return known;
  };
}
