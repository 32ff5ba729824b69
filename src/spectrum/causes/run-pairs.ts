/**
 * How well a peak of one run fits one of another run as the same source: densities over the logarithm of the second frequency, for a
 * constant frequency, a constant wavelength, and chance. Own derivation.
 */
import { aliasedFrequencyHz } from '../../optics/index.js';
import type { RunWindow } from './types.js';

/** Place of a peak and its standard deviation, hertz. */
export interface PeakPlace {
  readonly freqHz: number;
  readonly freqSdHz: number;
}

/** Prior times density, of each explanation of the pair; and the share of each true frequency within a constant one. */
export interface PairFit {
  readonly constant: number;
  readonly wave: number;
  readonly chance: number;
  /** The frequency of the motion that fits best as a constant one, as wave, and how much of the fit it carries. */
  readonly constantHz: { readonly trueHz: number; readonly share: number };
  readonly waveHz: { readonly trueHz: number; readonly share: number };
}

/** Beforehand: as often constant in frequency as in wavelength, one in five neither. */
const PRIOR = { constant: 0.4, wave: 0.4, chance: 0.2 };
/** Most peaks are no folded ones; the others share the rest. */
const UNFOLDED = 0.7;
/** Frames fold up to this multiple of their rate. */
const FOLDS = 2;
/** Share of the other run's peaks that are expected to have nothing to do with this run. */
const STRANGERS = 0.3;

/** Frequencies of a motion that would show at `freqHz`, with their weight beforehand; the one that is not folded first. */
export function weighedOrigins(
  freqHz: number,
  rateHz: number,
): { readonly trueHz: number; readonly weight: number }[] {
  const folded = Array.from({ length: FOLDS }, (_, i) => (i + 1) * rateHz).flatMap((at) => [
    at - freqHz,
    at + freqHz,
  ]);
  return [
    { trueHz: freqHz, weight: UNFOLDED },
    ...folded.map((trueHz) => ({ trueHz, weight: (1 - UNFOLDED) / folded.length })),
  ];
}

/** Speed of the other run over that of this one, and the standard deviation of its logarithm; null unless both speeds are known. */
export function speedRatio(
  here: RunWindow,
  other: RunWindow,
): { readonly ratio: number; readonly sd: number } | null {
  if (here.speedMps === null || other.speedMps === null) return null;
  return { ratio: other.speedMps / here.speedMps, sd: Math.hypot(here.speedSdShare, other.speedSdShare) };
}

/**
 * @param others how many peaks the other run has: the more, the likelier one fits by chance
 * @returns `wave` is 0 where a speed is not known
 */
export function pairFit(
  from: PeakPlace,
  to: PeakPlace,
  here: RunWindow,
  other: RunWindow,
  others: number,
): PairFit {
  const speeds = speedRatio(here, other);
  const places = weighedOrigins(from.freqHz, here.rateHz);
  const density = (expectedHz: number, sdHz: number): number => {
    const off = (to.freqHz - aliasedFrequencyHz(expectedHz, other.rateHz)) / sdHz;
    return (to.freqHz * Math.exp(-0.5 * off ** 2)) / (sdHz * Math.sqrt(2 * Math.PI));
  };
  const constant = places.map(
    ({ trueHz, weight }) => weight * density(trueHz, Math.hypot(from.freqSdHz, to.freqSdHz)),
  );
  const wave = places.map(({ trueHz, weight }) => {
    if (!speeds) return 0;
    const expectedHz = trueHz * speeds.ratio;
    const sdHz = Math.hypot(from.freqSdHz * speeds.ratio, to.freqSdHz, expectedHz * speeds.sd);
    return weight * density(expectedHz, sdHz);
  });
  const [low, high] = other.bandHz;
  const strangers = Math.max(1, STRANGERS * others);
  return {
    constant: PRIOR.constant * total(constant),
    wave: PRIOR.wave * total(wave),
    chance: (PRIOR.chance * strangers) / Math.log(high / low),
    constantHz: likeliest(places, constant),
    waveHz: likeliest(places, wave),
  };
}

const total = (parts: readonly number[]): number => parts.reduce((a, b) => a + b, 0);

function likeliest(
  places: readonly { readonly trueHz: number }[],
  fits: readonly number[],
): { trueHz: number; share: number } {
  const best = fits.reduce((at, fit, i) => (fit > fits[at] ? i : at), 0);
  return { trueHz: places[best].trueHz, share: fits[best] / (total(fits) || 1) };
}
