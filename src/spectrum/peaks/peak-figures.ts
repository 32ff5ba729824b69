/** Figures of a peak that was found: frequency, width and RMS with their uncertainty, in hertz and the unit of the series. */
import { fourthDifferenceGain } from '../../numerics/index.js';
import type { Background } from './background.js';
import { valueAt } from './background.js';
import { lineFrequency } from './line-frequency.js';
import { LINE_HEIGHT } from './line-shape.js';
import { mayBeRipple } from './ripples.js';
import { isResonance, type Candidate } from './search-peaks.js';
import type { TaperSpectra } from './taper-spectra.js';
import type { BothDomains } from './travel-domain.js';
import type { FoundPeak, SearchedSeries } from './types.js';

/** One taper keeps this share of what the whole series holds on a line: rho = (S / B - 1) / 0.81. */
const TAPER_SHARE = 0.81;
/** sd of a line's frequency times T sqrt(rho) as measured, and a factor for safety. */
const FREQ_SD = 0.5;
const SAFETY = 1.3;
/** Relative sd of a line's amplitude times sqrt(rho), as measured. */
const RMS_SD = 0.79;
/** The frequency of a resonance is known to this share, as measured. */
const RESONANCE_FREQ_SD = 0.015;
/** Half the width over which the power of a resonance is summed: half-power widths, and cells 1 / T. */
const RESONANCE_SUM: readonly [number, number] = [3, 2];
/** A line that could lose no more than this of its power over noise by the speed cannot tell what it follows. */
const LEAST_LOSS = 1;

/**
 * Figures of one peak.
 *
 * @param background without the lift of any resonance
 * @param domains the line over the way; null without a way, or for a resonance
 */
export function peakFigures(
  series: SearchedSeries,
  spectra: TaperSpectra,
  background: Background,
  found: Candidate,
  domains: BothDomains | null,
): FoundPeak {
  const { durationS, line } = spectra;
  const under = valueAt(line.freqHz, background.line, found.freqHz);
  const ripple =
    background.kind === 'median'
      ? mayBeRipple(found.freqHz, durationS, series.rippleSpeedMps ?? null)
      : false;
  const broad = isResonance(found);
  const broadProbability = 1 / (1 + Math.exp(-found.lnOdds));
  const told = domains !== null && !broad && (found.height / under) * (1 - domains.keptShare) >= LEAST_LOSS;
  const followsTravel = told ? 1 / (1 + Math.exp(-(domains.wayPower - domains.timePower) / under)) : null;
  const overWay = followsTravel !== null && followsTravel > 0.5;
  const freqHz = overWay
    ? domains!.wayFreqHz
    : broad
      ? found.freqHz
      : lineFrequency(series, spectra, found.freqHz);
  const height = overWay ? domains!.wayPower : found.height;
  const strength = Math.max(height / under - 1, 1e-3) / TAPER_SHARE;
  const highPass = fourthDifferenceGain(freqHz, series.rateHz, series.cutoffHz);
  const lineSdHz = (SAFETY * FREQ_SD) / (durationS * Math.sqrt(strength));
  const shared = { broadProbability, followsTravel, mayBeRipple: ripple, strength };
  const prominenceDb = 10 * Math.log10(height / under);
  if (!broad) {
    return {
      ...shared,
      freqHz,
      freqSdHz: lineSdHz,
      widthHz: Math.max(halfPowerWidthHz(spectra, found.freqHz), 1 / durationS),
      rms: Math.sqrt(Math.max(height - under, 0) / (LINE_HEIGHT * durationS) / 2) / highPass,
      rmsShare: RMS_SD / Math.sqrt(strength),
      prominenceDb,
      resonance: null,
    };
  }
  const { dampingRatio, gain } = found.resonance!;
  const { power, sd } = powerOver(spectra, background, freqHz, dampingRatio);
  return {
    ...shared,
    freqHz,
    freqSdHz: Math.hypot(lineSdHz, RESONANCE_FREQ_SD * freqHz),
    widthHz: Math.max(2 * dampingRatio * freqHz, 1 / durationS),
    rms: Math.sqrt(power) / highPass,
    rmsShare: sd / (2 * power),
    prominenceDb,
    resonance: { dampingRatio, gain },
  };
}

/** Power over the background around a resonance and its sd, (unit of the series)^2. */
function powerOver(
  { steady, durationS, parts }: TaperSpectra,
  background: Background,
  freqHz: number,
  dampingRatio: number,
): { power: number; sd: number } {
  const [widths, cells] = RESONANCE_SUM;
  const reachHz = Math.max(2 * widths * dampingRatio * freqHz, cells / durationS);
  let power = 0;
  let variance = 0;
  steady.freqHz.forEach((f, i) => {
    if (Math.abs(f - freqHz) > reachHz) return;
    power += (steady.psd[i] - background.steady[i]) / durationS;
    variance += (steady.psd[i] / durationS) ** 2 / parts;
  });
  const sd = Math.sqrt(variance);
  // A resonance was found there, so its power is above zero whatever the sum says.
  return { power: Math.max(power, sd / 2), sd };
}

/** Full width at half power of the line spectrum, linear between ordinates. */
function halfPowerWidthHz({ line }: TaperSpectra, freqHz: number): number {
  const stepHz = line.freqHz[1];
  const at = Math.min(line.psd.length - 1, Math.round(freqHz / stepHz));
  const half = line.psd[at] / 2;
  const reach = (side: 1 | -1): number => {
    let i = at;
    while (i + side > 0 && i + side < line.psd.length && line.psd[i + side] > half) i += side;
    const next = line.psd[i + side];
    const share = next === undefined || next >= line.psd[i] ? 0 : (line.psd[i] - half) / (line.psd[i] - next);
    return (i - at) * side + share;
  };
  return (reach(-1) + reach(1)) * stepHz;
}
