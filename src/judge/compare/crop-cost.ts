/**
 * What stabilising costs under two setups, as a figure with its range and no test: per cent of the width for a take of one length, on one
 * lens. A crop is an extreme of its run and grows with it, so raw crops of unequal runs mislead; both are foretold for one take.
 */
import { mean, studentQuantile } from '../../numerics/index.js';
import { figure, percentFigure, percentUp, type ComparedPair } from '../../run/index.js';
import { comparisonTexts } from '../../texts/index.js';
import { frameTimes, predictTakes, testPassOf, wayOf, type CropForecast } from '../../stabilise/index.js';
import type { CommonLens } from './common-lens.js';
import type { ComparedPass } from './types.js';

type CropOfPair = ComparedPair['crop'];
type CropSide = CropOfPair['a'];

/** Takes further than this beyond the shorter pass are not compared. */
const FARTHEST = 2;
const DEGREES = 4;
/** Of 2 passes at random, in ln crop: part of every forecast. */
const PASS_FACTOR_SD = 0.11;
/** Variance of the largest of a stretch (Gumbel), in steps of its tail. */
const GUMBEL_VARIANCE = Math.PI ** 2 / 6;
const BLOCK_S = 0.5;

/** A pass with the crop that it costs on the common lens. */
export interface PassCrop {
  readonly compared: ComparedPass;
  readonly cropPercent: number;
  readonly durationS: number;
  /** The forecast of a take of so many seconds. */
  readonly forecast: (takeS: number) => CropForecast;
}

/** The crop of one pass where the move is kept, above the cut-off of the comparison. */
export function passCrop(compared: ComparedPass, lens: CommonLens, cutoffHz: number, seed: number): PassCrop {
  const { motion, rig } = compared.pass;
  const { camera, delivery } = lens;
  const way = wayOf(
    { motion, camera, delivery, times: frameTimes(motion, rig) },
    { mode: 'keepMove', smoothingS: 1 / cutoffHz },
  );
  const test = testPassOf(way, camera, motion.rateHz, rig);
  return {
    compared,
    cropPercent: way.crop.cropPercent,
    durationS: motion.timeS.length / motion.rateHz,
    forecast: (takeS) => predictTakes(test, [takeS], seed).takes[0],
  };
}

/**
 * The cost of both. The take is the one asked for, but at most twice as long as the shortest pass.
 *
 * The median is the mean over passes in the logarithm, the bound the largest of theirs. The range of the ratio is that of the
 * medians: how sure the passes leave them, and what passes differ by; Student's t with 4 degrees. Own derivation.
 */
export function cropCost(
  a: readonly PassCrop[],
  b: readonly PassCrop[],
  takeS: number,
  betweenPasses: number,
): CropOfPair {
  const shortestS = Math.min(...[...a, ...b].map(({ durationS }) => durationS));
  const atS = Math.min(takeS, FARTHEST * shortestS);
  const [sideA, sideB] = [a, b].map((passes) => sideOf(passes, atS));
  const told = sideA.medianLn !== null && sideB.medianLn !== null;
  const lnRatio = told ? sideA.medianLn - sideB.medianLn : null;
  const variance =
    told && sideA.variance !== null && sideB.variance !== null
      ? sideA.variance + sideB.variance + betweenPasses ** 2 * (1 / a.length + 1 / b.length)
      : null;
  const half = variance === null ? null : studentQuantile(0.975, DEGREES) * Math.sqrt(variance);
  const ratio = lnRatio === null ? null : Math.exp(lnRatio);
  return {
    takeS: atS,
    a: sideA.side,
    b: sideB.side,
    ratio,
    ci95: ratio === null || half === null ? null : [ratio * Math.exp(-half), ratio * Math.exp(half)],
    sentence: sentence(atS, [a[0].compared.setup, sideA.side], [b[0].compared.setup, sideB.side]),
  };
}

interface SideCrop {
  readonly side: CropSide;
  readonly medianLn: number | null;
  /** Of ln median. */
  readonly variance: number | null;
}

function sideOf(passes: readonly PassCrop[], takeS: number): SideCrop {
  const forecasts = passes.map(({ forecast }) => forecast(takeS));
  const medians = forecasts.map(({ medianPercent }) => medianPercent).filter((percent) => percent !== null);
  const uppers = forecasts.map(({ upper95Percent }) => upper95Percent).filter((percent) => percent !== null);
  const known = medians.length === passes.length && medians.every((percent) => percent > 0);
  const bounded = uppers.length === passes.length;
  const medianLn = known ? mean(medians.map(Math.log)) : null;
  const variance =
    known && bounded
      ? mean(medians.map((median, i) => medianVariance(median, uppers[i], passes[i].durationS, takeS))) /
        passes.length
      : null;
  const side = {
    medianPercent: medianLn === null ? null : Math.exp(medianLn),
    upper95Percent: bounded ? Math.max(...uppers) : null,
  };
  return { side, medianLn, variance };
}

/**
 * Variance of the logarithm of a forecast's median: the part of the spread of single takes (read off between median and bound) that
 * comes from not knowing the tail. k peaks leave its step and the rate of peaks sure to 1/sqrt(k) each, the largest of the take adds
 * its own spread: of (1 + L^2)/k + pi^2/6, L steps up the tail, the first part.
 */
function medianVariance(
  medianPercent: number,
  upperPercent: number,
  durationS: number,
  takeS: number,
): number {
  const spread = Math.log(upperPercent / medianPercent) / 1.645;
  const single = Math.max(0, spread ** 2 - PASS_FACTOR_SD ** 2);
  // Half of the blocks of a pass are peaks above their median.
  const peaks = Math.max(1, durationS / BLOCK_S / 2);
  const up = Math.log((peaks * takeS) / durationS) - Math.log(Math.LN2);
  const unsure = (1 + up ** 2) / peaks;
  return (single * unsure) / (unsure + GUMBEL_VARIANCE);
}

function sentence(takeS: number, ...sides: readonly (readonly [string, CropSide])[]): string {
  const words = sides.map(([name, { medianPercent, upper95Percent }]) => {
    if (medianPercent === null) return comparisonTexts.cropNotForetold(name);
    const bound = upper95Percent === null ? null : percentUp(upper95Percent);
    return comparisonTexts.cropAbout(name, percentFigure(medianPercent), bound);
  });
  return comparisonTexts.cropOfTake(figure(takeS), words);
}
