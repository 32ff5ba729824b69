/**
 * The multitaper spectrum that a deck channel is expected to show, in (unit of the channel)^2 per Hz, from floor roughness, dolly,
 * speed, shutter and noise.
 *
 * The wheelbase cuts deep, narrow notches into the spectrum of pitch, v / L apart. At walking pace of a slider they are narrower
 * than any taper, so tapers fill them with their neighbours' power. The expectation is therefore smeared exactly as the estimate
 * is, by the tapers' spectral window (autocovariance times lag window, seen from the other side). The spectrum is never divided
 * by the notches.
 *
 * Sine tapers: Riedel & Sidorenko 1995, IEEE Trans. Signal Processing 43 (from memory). Rest own derivation.
 */
import { fourthDifferenceGain, realFft, sineTapers } from '../../numerics/index.js';
import { exposureGain } from '../../optics/index.js';
import { contactPowerGain, deckPowerGain, type DeckChannel, type DollySize } from '../deck/deck-transfer.js';
import { CLASS_WAVINESS, heightPsdInTime, REFERENCE_WAVENUMBER } from './road-profile.js';

/** Number of sine tapers: 10 degrees of freedom in each bin. */
export const TAPER_COUNT = 5;

/** Bands folded back from beyond the frame rate, on each side; at half the frame rate they hold half of the power. */
const FOLDS = 3;

/** Keeps the density finite at 0 Hz, where the high-pass leaves nothing anyway. */
const LOWEST_WAVENUMBER = 1e-6;

/** Reach of the tapers' window, bins: beyond it five sine tapers hold less than 1e-4 of their power. */
const WINDOW_BINS = 24;

/** Below any density that can be met; keeps logarithms finite. */
const FLOOR_PSD = 1e-30;

/** Everything but roughness and noise that shapes the spectrum of a pass. */
export interface PassSettings {
  readonly rateHz: number;
  readonly frameCount: number;
  /** Speeds of the dolly in the pass, m/s, each standing for an equal share of the time; one value when it is steady. */
  readonly speedsMps: Float64Array;
  readonly dolly: DollySize;
  readonly exposureS: number;
  /** Half-gain frequency of the high-pass that made the vibration series. */
  readonly cutoffHz: number;
}

/** A floor of a straight log-log spectrum. */
export interface FloorShape {
  readonly waviness: number;
  /** Wavenumber at which spectra of all wavinesses cross the w = 2 one of the same Gd(n0), cycles/m. */
  readonly pivotCyclesPerM: number;
}

/** The floor of the roughness classes. */
export const CLASS_SHAPE: FloorShape = {
  waviness: CLASS_WAVINESS,
  pivotCyclesPerM: REFERENCE_WAVENUMBER,
};

/** Power that a wave of the floor gives over the power of its height, at a wavenumber; `phaseScale` is wheelbase in the notches over as given. */
export type FloorPowerGain = (cyclesPerM: number, phaseScale: number) => number;

/** Makes expected spectra of one pass; every answer has floor(frameCount / 2) + 1 bins, as the multitaper estimate. */
export interface ExpectedSpectra {
  /**
   * Spectra of a channel over a floor of Gd(n0) = 1 m^3 without noise, one for each half-power wavenumber of the contact
   * (cycles/m).
   *
   * @param phaseScale wheelbase in the notches over wheelbase as given: 1, or as found by `fitWheelPhase`
   */
  floors(
    channel: DeckChannel,
    shape: FloorShape,
    contactsCyclesPerM: readonly number[],
    phaseScale: number,
  ): Float64Array[];
  /**
   * The same for anything that answers to the floor: a view through the lens, a mixture of channels.
   *
   * @param powerGain power of the answer over power of the height at a wavenumber and a `phaseScale`
   */
  floorsThrough(
    powerGain: FloorPowerGain,
    shape: FloorShape,
    contactsCyclesPerM: readonly number[],
    phaseScale: number,
  ): Float64Array[];
  /** Spectrum of white noise of density 1 per Hz after the high-pass. */
  readonly noise: Float64Array;
}

/**
 * Prepares the tapers' window and the high-pass of a pass once, for the many spectra of a fit.
 *
 * @param taperCount tapers of the estimate that is to be met; fewer resolve narrower bands
 */
export function expectedSpectra(settings: PassSettings, taperCount = TAPER_COUNT): ExpectedSpectra {
  const { frameCount: n, rateHz, cutoffHz, speedsMps } = settings;
  const window = spectralWindow(n, taperCount);
  const freqHz = Float64Array.from({ length: n + 1 }, (_, i) => (i * rateHz) / (2 * n));
  const highPass = freqHz.map((f) => fourthDifferenceGain(f, rateHz, cutoffHz) ** 2);
  const bands = foldedBands(freqHz, settings);
  const contactGains = new Map<number, readonly Float64Array[]>();
  const gainsOf = (contact: number): readonly Float64Array[] => {
    const known = contactGains.get(contact);
    if (known !== undefined) return known;
    const gains = bands.map(({ cyclesPerM }) => cyclesPerM.map((n) => contactPowerGain(n, contact)));
    contactGains.set(contact, gains);
    return gains;
  };
  // Kept for the last shape: a search over the notches asks for the same floor many times.
  let heights: { shape: FloorShape; densities: readonly Float64Array[] } | null = null;
  const heightsOf = (shape: FloorShape): readonly Float64Array[] => {
    heights =
      heights?.shape === shape
        ? heights
        : { shape, densities: bands.map((band) => heightDensity(band, highPass, shape, speedsMps.length)) };
    return heights.densities;
  };
  const floorsThrough: ExpectedSpectra['floorsThrough'] = (
    powerGain,
    shape,
    contactsCyclesPerM,
    phaseScale,
  ) => {
    const heightDensities = heightsOf(shape);
    const densities = bands.map(({ cyclesPerM }, k) =>
      heightDensities[k].map((height, i) => height * powerGain(cyclesPerM[i], phaseScale)),
    );
    return contactsCyclesPerM.map((contact) => smear(sumOfProducts(densities, gainsOf(contact)), window));
  };
  return {
    noise: smear(highPass, window),
    floorsThrough,
    floors(channel, shape, contactsCyclesPerM, phaseScale) {
      const gain: FloorPowerGain = (n, scale) => deckPowerGain(channel, n, settings.dolly, scale);
      return floorsThrough(gain, shape, contactsCyclesPerM, phaseScale);
    },
  };
}

/** Mean power window of the tapers on a grid of half bins, offsets 0 .. WINDOW_BINS; it sums to 1 over both sides. */
function spectralWindow(n: number, taperCount: number): Float64Array {
  const reach = Math.min(2 * WINDOW_BINS, n);
  const power = new Float64Array(reach + 1);
  for (const taper of sineTapers(n, taperCount)) {
    const { re, im } = realFft(taper, 2 * n);
    for (let i = 0; i <= reach; i++) power[i] += re[i] ** 2 + im[i] ** 2;
  }
  const total = power.reduce((sum, value, i) => sum + (i === 0 ? 1 : 2) * value, 0);
  return power.map((value) => value / total);
}

/** Expectation of the estimate on n-point bins from a density on half bins, 0 .. Nyquist, mirrored at both ends. */
function smear(density: Float64Array, window: Float64Array): Float64Array {
  const n = density.length - 1;
  const at = (i: number): number => density[i < 0 ? -i : i > n ? 2 * n - i : i];
  return Float64Array.from({ length: Math.floor(n / 2) + 1 }, (_, bin) => {
    let sum = window[0] * density[2 * bin];
    for (let j = 1; j < window.length; j++) sum += window[j] * (at(2 * bin - j) + at(2 * bin + j));
    return Math.max(sum, FLOOR_PSD);
  });
}

/** One band of frequencies that frames fold into 0 .. Nyquist, at one of the speeds; columns of half bins. */
interface FoldedBand {
  readonly speedMps: number;
  readonly cyclesPerM: Float64Array;
  readonly exposurePower: Float64Array;
}

function foldedBands(freqHz: Float64Array, { rateHz, speedsMps, exposureS }: PassSettings): FoldedBand[] {
  const bands: FoldedBand[] = [];
  for (const speedMps of speedsMps) {
    for (let fold = -FOLDS; fold <= FOLDS; fold++) {
      const trueHz = freqHz.map((f) => Math.abs(f + fold * rateHz));
      bands.push({
        speedMps,
        cyclesPerM: trueHz.map((f) => Math.max(f / speedMps, LOWEST_WAVENUMBER)),
        exposurePower: trueHz.map((f) => exposureGain(f, exposureS) ** 2),
      });
    }
  }
  return bands;
}

/** One-sided density of the height in a band, exposure and high-pass included; each speed stands for its share of the time. */
function heightDensity(
  { speedMps, cyclesPerM, exposurePower }: FoldedBand,
  highPass: Float64Array,
  { waviness, pivotCyclesPerM }: FloorShape,
  speedCount: number,
): Float64Array {
  const level = (pivotCyclesPerM / REFERENCE_WAVENUMBER) ** (waviness - CLASS_WAVINESS) / speedCount;
  return cyclesPerM.map(
    (n, i) => level * highPass[i] * exposurePower[i] * heightPsdInTime(1, n * speedMps, speedMps, waviness),
  );
}

function sumOfProducts(a: readonly Float64Array[], b: readonly Float64Array[]): Float64Array {
  const out = new Float64Array(a[0].length);
  a.forEach((column, k) => {
    const other = b[k];
    for (let i = 0; i < out.length; i++) out[i] += column[i] * other[i];
  });
  return out;
}
