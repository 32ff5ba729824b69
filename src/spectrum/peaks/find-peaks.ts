/**
 * Peaks that stand out of what the floor explains in one vibration series: frequency, width, RMS and whether line or resonance, in hertz
 * and the unit of the series.
 *
 * One sine taper shows lines, five show broad rises; both are held against the spectrum that the floor gives through the two axles, or,
 * where no model of the floor holds, against a running median. Own derivation; sine tapers: Riedel & Sidorenko 1995.
 */
import { fourthDifferenceGain } from '../../numerics/index.js';
import { peakRefusalTexts } from '../../texts/index.js';
import type { Background } from './background.js';
import { floorBackground } from './floor-background.js';
import { floorModel, type FloorModel } from './floor-model.js';
import { medianBackground } from './median-background.js';
import { fitMount } from './mount-fit.js';
import { peakFigures } from './peak-figures.js';
import { trustedLift } from './resonance.js';
import { isResonance, searchPeaks, type Candidate } from './search-peaks.js';
import { STEADY_TAPERS, taperSpectra, type TaperSpectra } from './taper-spectra.js';
import { travelDomain, type BothDomains } from './travel-domain.js';
import type { FoundPeak, PeakFinding, SearchedSeries } from './types.js';

/** Shorter series give no peaks. */
const LEAST_DURATION_S = 2;
/** The background needs this many bins of the steady spectrum. */
const LEAST_BINS = 2 * STEADY_TAPERS;
/** Once a resonance is part of the floor's model, what stands out this near to it is its own remainder. */
const MOUNT_REACH = 0.12;
/** A line over the way, against the highest of a resonance: chance makes such a ratio of two maxima in one of twenty or so. */
const PURE_RATIO = 2.2;
/** A line that follows the way for sure leaves traces beside itself over time; a peak must be so many times higher. */
const CLEARLY = 0.95;
const TRACE_MARGIN = 4;
/**
 * Of 100 spectra of a floor alone so many show a peak, about: 10 to 30 s on tilt, roll and vertical, speed 2 % and wheelbase 5 mm off,
 * own simulation. The other axes see a floor through the same gains.
 */
const FALSE_IN_HUNDRED = 3;

/**
 * Finds the peaks of one evenly spaced series, strongest over its threshold first, at most 12.
 *
 * A series shorter than 2 s gives none, and neither does one that stands still; no peak of fewer than 8 cycles is reported. A series
 * longer than 30 s is searched in the average spectrum of equal parts. Side lobes of a strong line are not taken for further ones.
 *
 * @param series not changed
 */
export function findPeaks(series: SearchedSeries): PeakFinding {
  const { values, rateHz, floor } = series;
  if (values.length < LEAST_DURATION_S * rateHz) return refused(peakRefusalTexts.tooShort(LEAST_DURATION_S));
  if (values.some((v) => !Number.isFinite(v))) return refused(peakRefusalTexts.gaps);
  const spectra = taperSpectra(series);
  const { psd } = spectra.steady;
  if (psd.length < LEAST_BINS) return refused(peakRefusalTexts.tooFewBins);
  if (psd.some((s) => !(s > 0))) return refused(peakRefusalTexts.still);

  const model = floor && floorModel(spectra, series, floor);
  const overWay = travelDomain(series, spectra);
  const search: Search = (over) =>
    searchPeaks(spectra, over, overWay && ((freqHz) => pureOverWay(overWay(freqHz, Infinity))));
  const { background, found } = model
    ? overFloor(spectra, model, search)
    : overMedian(spectra, search, (2 * series.noiseSd ** 2) / rateHz, series.cutoffHz);
  const neighbourOf = (one: Candidate): number =>
    found.reduce(
      (least, other) => (other === one ? least : Math.min(least, Math.abs(other.freqHz - one.freqHz))),
      Infinity,
    );
  const peaks: FoundPeak[] = [];
  const traces: BothDomains['traceAt'][] = [];
  for (const one of found) {
    if (traces.some((traceAt) => one.height < TRACE_MARGIN * traceAt(one.freqHz))) continue;
    const domains = isResonance(one) || overWay === null ? null : overWay(one.freqHz, neighbourOf(one));
    const peak = peakFigures(series, spectra, background, one, domains);
    if (domains !== null && (peak.followsTravel ?? 0) > CLEARLY) traces.push(domains.traceAt);
    peaks.push(peak);
  }
  return {
    peaks,
    background: { freqHz: spectra.steady.freqHz, psd: background.steady },
    kind: background.kind,
    phase: background.phase,
    falseInHundred: model ? FALSE_IN_HUNDRED : null,
    refusal: null,
  };
}

type Search = (background: Background) => Candidate[];

/** A line that turns with the way is smeared over time, and can look like a resonance there. */
function pureOverWay({ wayPower, timePower }: BothDomains): boolean {
  return wayPower > PURE_RATIO * timePower;
}

interface Found {
  readonly background: Background;
  readonly found: readonly Candidate[];
}

function overMedian(spectra: TaperSpectra, search: Search, noisePsd: number, cutoffHz: number): Found {
  const noise = (f: number): number => noisePsd * fourthDifferenceGain(f, spectra.rateHz, cutoffHz) ** 2;
  const background = medianBackground(spectra, noise);
  return { background, found: search(background) };
}

/** With a resonance among the peaks the search starts again, with the resonance in the model of the floor. */
function overFloor(spectra: TaperSpectra, model: FloorModel, search: Search): Found {
  const background = floorBackground(spectra, model, null);
  const found = search(background);
  const mounts = found.filter(isResonance);
  if (mounts.length === 0) return { background, found };
  const mount = mounts.reduce((most, one) => (one.lnOdds > most.lnOdds ? one : most));
  const resonance = fitMount(spectra, model, mount.freqHz, background.phaseOffset!);
  const lift = trustedLift(resonance);
  const lifted = floorBackground(spectra, model, lift);
  const others = search(lifted).filter(({ freqHz }) => Math.abs(freqHz / mount.freqHz - 1) > MOUNT_REACH);
  return {
    // What is said of a peak is said over the floor alone.
    background: {
      ...lifted,
      steady: lifted.steady.map((b, i) => b / lift(spectra.steady.freqHz[i])),
      line: lifted.line.map((b, i) => b / lift(spectra.line.freqHz[i])),
    },
    found: [{ ...mount, resonance }, ...others],
  };
}

function refused(refusal: string): PeakFinding {
  return {
    peaks: [],
    background: { freqHz: new Float64Array(0), psd: new Float64Array(0) },
    kind: 'median',
    phase: null,
    falseInHundred: null,
    refusal,
  };
}
