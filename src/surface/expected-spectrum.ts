/**
 * The multitaper spectrum that a deck channel is expected to show, in (unit of the channel)^2 per Hz, from floor roughness, dolly,
 * speed, shutter and noise.
 *
 * The wheelbase cuts deep, narrow notches into the spectrum of pitch, v / L apart. At walking pace of a slider they are narrower
 * than any taper, so tapers fill them with their neighbours' power. The expectation is therefore smeared exactly as the estimate
 * is: model density -> autocovariance -> times the lag window of the tapers -> back. The spectrum is never divided by the notches.
 *
 * Sine tapers: Riedel & Sidorenko 1995, IEEE Trans. Signal Processing 43 (from memory). Rest own derivation.
 */
import { fourthDifferenceGain, inverseRealFft, realFft, sineTapers } from '../numerics/index.js';
import { exposureGain } from '../optics/index.js';
import { contactPowerGain, deckPowerGain, type DeckChannel, type DollySize } from './deck-transfer.js';
import { CLASS_WAVINESS, heightPsdInTime, REFERENCE_WAVENUMBER } from './road-profile.js';

/** Number of sine tapers: 10 degrees of freedom in each bin. */
export const TAPER_COUNT = 5;

/** Bands folded back from beyond the frame rate, on each side; at half the frame rate they hold half of the power. */
const FOLDS = 3;

/** Keeps the density finite at 0 Hz, where the high-pass leaves nothing anyway. */
const LOWEST_WAVENUMBER = 1e-6;

/** Below any density that can be met; keeps logarithms finite. */
const FLOOR_PSD = 1e-30;

/** Everything but roughness and noise that shapes the spectrum of a pass. */
export interface PassSettings {
  readonly rateHz: number;
  readonly frameCount: number;
  /** Speeds of the dolly in the pass, m/s, each standing for an equal share of the time; one value when it is steady. */
  readonly speedsMps: Float64Array;
  readonly dolly: DollySize;
  /** Wheelbase in the notches over wheelbase as given: 1, or as found by `fitWheelPhase`. */
  readonly phaseScale: number;
  readonly exposureS: number;
  /** Half-gain frequency of the high-pass that made the vibration series. */
  readonly cutoffHz: number;
  /** Smear the model as the tapers do; false only to show what goes wrong without. */
  readonly smeared?: boolean;
}

/** A floor of a straight log-log spectrum. */
export interface FloorShape {
  readonly waviness: number;
  /** Wavenumber at which spectra of all wavinesses cross the w = 2 one of the same Gd(n0), cycles/m. */
  readonly pivotCyclesPerM: number;
  /** Half-power wavenumber of the wheel contact, cycles/m. */
  readonly contactCyclesPerM: number;
}

/** Makes expected spectra of one pass; every answer has floor(frameCount / 2) + 1 bins, as the multitaper estimate. */
export interface ExpectedSpectra {
  /** Spectrum of a channel over a floor of Gd(n0) = 1 m^3, no noise. */
  floor(channel: DeckChannel, shape: FloorShape): Float64Array;
  /** Spectrum of white noise of density 1 per Hz after the high-pass. */
  readonly noise: Float64Array;
}

/** Prepares the lag window and the high-pass of a pass once, for the many spectra of a fit. */
export function expectedSpectra(settings: PassSettings): ExpectedSpectra {
  const { frameCount: n, rateHz, cutoffHz, smeared = true } = settings;
  const window = lagWindow(n);
  const freqHz = Float64Array.from({ length: n + 1 }, (_, i) => (i * rateHz) / (2 * n));
  const highPass = freqHz.map((f) => fourthDifferenceGain(f, rateHz, cutoffHz) ** 2);
  const smear = (density: Float64Array): Float64Array =>
    smeared
      ? smearByTapers(density, window)
      : Float64Array.from({ length: Math.floor(n / 2) + 1 }, (_, i) => Math.max(density[2 * i], FLOOR_PSD));
  return {
    noise: smear(highPass),
    floor(channel, shape) {
      const density = foldedDensity(freqHz, channel, shape, settings);
      for (let i = 0; i < density.length; i++) density[i] *= highPass[i];
      return smear(density);
    },
  };
}

/** Autocorrelation of the tapers, mean over them, at lags 0 .. 2n-1 (circular): 1 at lag 0. */
function lagWindow(n: number): Float64Array {
  const power = new Float64Array(n + 1);
  for (const taper of sineTapers(n, TAPER_COUNT)) {
    const { re, im } = realFft(taper, 2 * n);
    for (let i = 0; i <= n; i++) power[i] += (re[i] ** 2 + im[i] ** 2) / TAPER_COUNT;
  }
  return inverseRealFft(power, new Float64Array(n + 1), 2 * n);
}

/** From a density on n + 1 points up to Nyquist to the expectation of the estimate on the n-point bins. */
function smearByTapers(density: Float64Array, window: Float64Array): Float64Array {
  const n = density.length - 1;
  const covariance = inverseRealFft(density, new Float64Array(n + 1), 2 * n);
  // Every second bin of a 2n transform is the n transform of the series folded in half.
  const folded = Float64Array.from(
    { length: n },
    (_, i) => covariance[i] * window[i] + covariance[i + n] * window[i + n],
  );
  return realFft(folded).re.map((value) => Math.max(value, FLOOR_PSD));
}

/** One-sided density of a channel as frames sample it: folded bands, exposure, contact; mean over the speeds. */
function foldedDensity(
  freqHz: Float64Array,
  channel: DeckChannel,
  shape: FloorShape,
  settings: PassSettings,
): Float64Array {
  const { rateHz, speedsMps, dolly, exposureS, phaseScale } = settings;
  const { waviness, pivotCyclesPerM, contactCyclesPerM } = shape;
  const level = (pivotCyclesPerM / REFERENCE_WAVENUMBER) ** (waviness - CLASS_WAVINESS) / speedsMps.length;
  const out = new Float64Array(freqHz.length);
  for (const speedMps of speedsMps) {
    for (let i = 1; i < out.length; i++) {
      for (let fold = -FOLDS; fold <= FOLDS; fold++) {
        const trueHz = Math.abs(freqHz[i] + fold * rateHz);
        const cyclesPerM = Math.max(trueHz / speedMps, LOWEST_WAVENUMBER);
        out[i] +=
          level *
          heightPsdInTime(1, cyclesPerM * speedMps, speedMps, waviness) *
          deckPowerGain(channel, cyclesPerM, dolly, phaseScale) *
          exposureGain(trueHz, exposureS) ** 2 *
          contactPowerGain(cyclesPerM, contactCyclesPerM);
      }
    }
  }
  return out;
}
