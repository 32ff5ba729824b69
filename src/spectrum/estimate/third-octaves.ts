/**
 * RMS of a vibration in one-third-octave bands, in the unit of the series, from an even series in that unit: what the eye or a
 * meter reads in each band, with its 95 % interval, or a bound where the noise of the measurement hides it.
 *
 * The low bands are narrow: 0.23 Hz at 1 Hz, two cells of 1 / T in a clip of 10 s. Welch's segments, 2 s long there, smear each of
 * them over five, so the whole series goes through sine tapers instead: one for narrow bands (half power at 0.6 / T from the
 * middle), more for wide ones, where they gain certainty and cost no sharpness that matters. Power is summed on the exact edges,
 * of cells that an edge cuts their share.
 *
 * Tapers: Riedel & Sidorenko 1995, IEEE Trans. Signal Processing 43 [from memory]; bands: IEC 61260-1:2014; equivalent degrees of
 * freedom: Blackman & Tukey 1958 [from memory]; choice of tapers, joining and the estimate of the degrees: own derivation.
 */
import {
  chiSquareQuantile,
  fourthDifferenceGain,
  multitaperSpectrum,
  realFft,
  sineTapers,
} from '../../numerics/index.js';
import { centred } from './segments.js';
import { intervalFactors } from './welch.js';
import { thirdOctavesBetween, type ThirdOctaveEdges } from './third-octave-bands.js';

/** What {@link thirdOctaves} must know of the series. */
export interface ThirdOctaveOptions {
  /** Only bands that lie wholly within are given; the upper end is cut to Nyquist. */
  readonly bandHz: readonly [number, number];
  /** Half-gain frequency of the high-pass that made the series, which is put right; null when it went through none. */
  readonly highPassHz: number | null;
  /** One-sided density of the white measurement noise before the high-pass, (unit)^2 / Hz; 0 when unknown. */
  readonly noisePsd: number;
}

/** One band, or neighbours joined because each alone is narrower than the series can resolve. */
export interface ThirdOctaveLevel {
  /** Nominal name in hertz, "3.15"; of joined bands "1 to 1.6". */
  readonly label: string;
  /** Exact centre; of joined bands the geometric middle. */
  readonly centreHz: number;
  readonly fromHz: number;
  readonly toHz: number;
  /** Noise taken off, as the camera saw it (not put right for the shutter); null where the noise alone could show as much. */
  readonly rms: number | null;
  /** 95 % interval of `rms`, for shake that goes on as it did; null with it. */
  readonly ci95: readonly [number, number] | null;
  /** Bound that the true RMS stays under with 97.5 %; always given. */
  readonly belowRms: number;
  /** Of the chi-square law of the band's power. */
  readonly degreesOfFreedom: number;
}

/** A band narrower than so many cells of 1 / T would read its neighbours' power for its own; it is joined to the next. */
const LEAST_CELLS = 2;
/** One more taper for so many cells: the tapers' blur then stays below a quarter of the band. */
const CELLS_PER_TAPER = 5;
const MOST_TAPERS = 5;
/** Cells are split into at least this many, so that a sum over the few of a low band follows the spectrum between them. */
const PADDING = 4;
/** Chance that noise alone shows a figure in a band. */
const FALSE_FIGURE = 0.01;
/** The high-pass is put right down to its half gain and no further. */
const LEAST_GAIN = 0.5;
const LEAST_SAMPLES = 8;
/** Ordinates further apart than tapers + this many cells share nothing. */
const CORRELATED_CELLS = 4;

interface BandPower {
  readonly power: number;
  /** Equivalent degrees of freedom. */
  readonly degrees: number;
}

interface Cells {
  readonly stepHz: number;
  /** Density before the high-pass, (unit)^2 / Hz, on multiples of stepHz. */
  readonly psd: Float64Array;
  /** Covariance of ordinates that many steps apart, over the product of their means. */
  readonly shared: Float64Array;
}

/** That covariance, by the distance in steps: the mean of |FFT(v_j v_k)|^2 over all pairs of tapers. */
function sharedPower(samples: number, tapers: number, size: number): Float64Array {
  const columns = sineTapers(samples, tapers);
  const shared = new Float64Array(
    Math.min(Math.ceil(((tapers + CORRELATED_CELLS) * size) / samples), size / 2),
  );
  for (let j = 0; j < tapers; j++) {
    for (let k = 0; k <= j; k++) {
      const product = columns[j].map((v, i) => v * columns[k][i]);
      const { re, im } = realFft(product, size);
      const weight = (j === k ? 1 : 2) / tapers ** 2;
      for (let d = 0; d < shared.length; d++) shared[d] += weight * (re[d] ** 2 + im[d] ** 2);
    }
  }
  return shared;
}

function cellsOf(
  series: Readonly<Float64Array>,
  rateHz: number,
  tapers: number,
  highPassHz: number | null,
): Cells {
  const size = 2 ** Math.ceil(Math.log2(PADDING * series.length));
  const { freqHz, psd } = multitaperSpectrum(series, rateHz, tapers, size);
  const before = (f: number): number =>
    highPassHz === null ? 1 : Math.max(fourthDifferenceGain(f, rateHz, highPassHz), LEAST_GAIN);
  return {
    stepHz: freqHz[1],
    psd: psd.map((s, i) => s / before(freqHz[i]) ** 2),
    shared: sharedPower(series.length, tapers, size),
  };
}

/** Power between two edges and its equivalent degrees of freedom. */
function bandPower({ stepHz, psd, shared }: Cells, fromHz: number, toHz: number): BandPower {
  const first = Math.max(0, Math.round(fromHz / stepHz));
  const last = Math.min(psd.length - 1, Math.round(toHz / stepHz));
  const parts = Float64Array.from({ length: last - first + 1 }, (_, i) => {
    const at = (first + i) * stepHz;
    return Math.max(0, Math.min(toHz, at + stepHz / 2) - Math.max(fromHz, at - stepHz / 2));
  });
  const powers = parts.map((width, i) => width * psd[first + i]);
  const power = powers.reduce((sum, p) => sum + p, 0);
  return { power, degrees: Math.min(degreesOf(parts, shared, false), degreesOf(powers, shared, true)) };
}

/**
 * 2 E^2 / Var of a sum of ordinates. For measured powers the products of neighbours are taken down to what they are on average,
 * 1 + their covariance, so that a narrow resonance in the band is seen and the scatter of a flat spectrum is not.
 */
function degreesOf(powers: Float64Array, shared: Float64Array, measured: boolean): number {
  let sum = 0;
  let variance = 0;
  for (let i = 0; i < powers.length; i++) {
    sum += powers[i];
    for (let d = 0; d < shared.length && i + d < powers.length; d++) {
      const covariance = measured ? shared[d] / (1 + shared[d]) : shared[d];
      variance += (d === 0 ? 1 : 2) * powers[i] * powers[i + d] * covariance;
    }
  }
  return variance > 0 ? (2 * sum * sum) / variance : 2;
}

/** Neighbours joined, from the lowest up, until each group is so wide; what is left over at the top goes to the group below. */
function joinNarrow(bands: readonly ThirdOctaveEdges[], leastHz: number): ThirdOctaveEdges[][] {
  const groups: ThirdOctaveEdges[][] = [];
  let open: ThirdOctaveEdges[] = [];
  for (const band of bands) {
    open.push(band);
    if (band.toHz - open[0].fromHz < leastHz) continue;
    groups.push(open);
    open = [];
  }
  groups.at(-1)?.push(...open);
  return groups;
}

/**
 * RMS of a series in one-third-octave bands, lowest first.
 *
 * Bands cut by an end of `bandHz` or by Nyquist are left out. Neighbours narrower than 2 / T are joined (about 1 Hz in 10 s);
 * a series in which even all bands together are narrower gives none. The high-pass is put right, so bands by the cut-off say more
 * than the RMS of the vibration as filtered, up to twice as much at the cut-off itself. A band reads as a value when noise alone
 * would show as much in 1 of 100 bands. The interval is that of Gaussian shake that goes on as it did in the series; where one
 * narrow peak holds the band it is wide, because a resonance says little more about itself; a pure line is known better than so.
 *
 * @param series length n >= 8, evenly spaced, no gaps, any unit, not changed; ends that a filter spoils already left out
 * @param rateHz samples per second, > 0
 * @throws RangeError on a series, rate or band outside these bounds, or noise below 0
 */
export function thirdOctaves(
  series: Readonly<Float64Array>,
  rateHz: number,
  { bandHz, highPassHz, noisePsd }: ThirdOctaveOptions,
): ThirdOctaveLevel[] {
  if (series.length < LEAST_SAMPLES)
    throw new RangeError(`series must hold at least ${LEAST_SAMPLES} samples, got ${series.length}`);
  if (!(noisePsd >= 0)) throw new RangeError(`noisePsd must not be negative, got ${noisePsd}`);
  const durationS = series.length / rateHz;
  const still = centred(series, true);
  const known = new Map<number, Cells>();
  const cells = (tapers: number): Cells => {
    const made = known.get(tapers) ?? cellsOf(still, rateHz, tapers, highPassHz);
    known.set(tapers, made);
    return made;
  };
  const bands = thirdOctavesBetween(bandHz[0], Math.min(bandHz[1], rateHz / 2));
  return joinNarrow(bands, LEAST_CELLS / durationS).map((group) => {
    const { fromHz } = group[0];
    const top = group[group.length - 1];
    const { toHz } = top;
    const cellCount = (toHz - fromHz) * durationS;
    const tapers = Math.min(MOST_TAPERS, Math.max(1, Math.floor(cellCount / CELLS_PER_TAPER)));
    return {
      label: group.length === 1 ? top.label : `${group[0].label} to ${top.label}`,
      centreHz: Math.sqrt(fromHz * toHz),
      fromHz,
      toHz,
      ...levelOf(bandPower(cells(tapers), fromHz, toHz), noisePsd * (toHz - fromHz)),
    };
  });
}

/** What a band's power says of the shake over a known power of noise. */
function levelOf(
  { power, degrees }: BandPower,
  noise: number,
): Pick<ThirdOctaveLevel, 'rms' | 'ci95' | 'belowRms' | 'degreesOfFreedom'> {
  const [low, high] = intervalFactors(degrees);
  const root = (p: number): number => Math.sqrt(Math.max(p, 0));
  const clear = power > (noise * chiSquareQuantile(1 - FALSE_FIGURE, degrees)) / degrees;
  return {
    rms: clear ? root(power - noise) : null,
    ci95: clear ? [root(low * power - noise), root(high * power - noise)] : null,
    // A power that fell below the noise by chance must not make the bound better than noise allows.
    belowRms: root(high * Math.max(power, noise) - noise),
    degreesOfFreedom: degrees,
  };
}
