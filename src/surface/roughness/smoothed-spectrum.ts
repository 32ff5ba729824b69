/**
 * Roughness of a measured height profile in the way of ISO 8608: its spectrum smoothed in octaves, thirds and twelfths of them,
 * and a straight line through it on log-log axes; Gd(n0) in m^3.
 *
 * For profiles that something else than a dolly measured, over road lengths. A test pass is never graded so: its band starts
 * where the line of the standard ends. Bands of the smoothing and of the line as read in a public implementation of the
 * standard; that the line is the one of least squares is from memory.
 */
import { multitaperSpectrum } from '../../numerics/index.js';
import { CLASS_WAVINESS, REFERENCE_WAVENUMBER } from './road-profile.js';

/** Range of the straight line, cycles/m: wavelengths from 91 to 0.35 m. */
export const LINE_RANGE_CYCLES_PER_M: readonly [number, number] = [0.011, 2.83];

const TAPERS = 3;
const FEWEST_BANDS = 3;

/** A smoothed spectrum; columns of one value per band. */
export interface SmoothedSpectrum {
  /** Centres, cycles/m, on the log axis. */
  readonly cyclesPerM: Float64Array;
  /** Mean one-sided density over the band, m^3. */
  readonly densityM3: Float64Array;
}

/** A straight line through a smoothed spectrum. */
export interface StraightSpectrum {
  /** Gd(n0) of the line, m^3, and its exponent. */
  readonly gdM3: number;
  readonly waviness: number;
  /** Gd(n0) of the line of w = 2 through the same bands, m^3. */
  readonly gdAtWaviness2M3: number;
}

/**
 * Mean density between two wavenumbers, the first and the last bin counted by the part of them that lies inside.
 *
 * @param densityM3 one-sided density in bins around 0, 1, 2 ... times `binCyclesPerM`
 * @param fromCyclesPerM lower end, > 0
 * @param toCyclesPerM upper end, within the last bin
 * @throws RangeError when the ends are not in order or lie outside the spectrum
 */
export function bandMeanDensity(
  densityM3: Readonly<Float64Array>,
  binCyclesPerM: number,
  fromCyclesPerM: number,
  toCyclesPerM: number,
): number {
  const first = Math.floor(fromCyclesPerM / binCyclesPerM + 0.5);
  const last = Math.floor(toCyclesPerM / binCyclesPerM + 0.5);
  if (!(fromCyclesPerM > 0 && toCyclesPerM > fromCyclesPerM && last < densityM3.length))
    throw new RangeError(`no band from ${fromCyclesPerM} to ${toCyclesPerM} cycles/m in this spectrum`);
  if (first === last) return densityM3[first];
  let power = ((first + 0.5) * binCyclesPerM - fromCyclesPerM) * densityM3[first];
  for (let i = first + 1; i < last; i++) power += binCyclesPerM * densityM3[i];
  power += (toCyclesPerM - (last - 0.5) * binCyclesPerM) * densityM3[last];
  return power / (toCyclesPerM - fromCyclesPerM);
}

/**
 * Smooths a spectrum: octaves with centres from 2^-9 to 2^-5 cycles/m, thirds of an octave to 2^-2, twelfths above; bands narrower than
 * a bin, or that reach into the bin around zero or past the end, are left out.
 *
 * @param densityM3 as in `bandMeanDensity`; not changed
 */
export function smoothedSpectrum(densityM3: Readonly<Float64Array>, binCyclesPerM: number): SmoothedSpectrum {
  const topCyclesPerM = (densityM3.length - 1) * binCyclesPerM;
  const bands = smoothingBands(topCyclesPerM).filter(
    ({ from, to }) => from >= binCyclesPerM / 2 && to <= topCyclesPerM && to - from >= binCyclesPerM,
  );
  return {
    cyclesPerM: Float64Array.from(bands, ({ centre }) => centre),
    densityM3: Float64Array.from(bands, ({ from, to }) =>
      bandMeanDensity(densityM3, binCyclesPerM, from, to),
    ),
  };
}

/**
 * The straight line of least squares through a smoothed spectrum on log-log axes, in the range of the standard.
 *
 * @throws RangeError when fewer than three bands lie in the range
 */
export function fitStraightSpectrum({ cyclesPerM, densityM3 }: SmoothedSpectrum): StraightSpectrum {
  const [lowest, highest] = LINE_RANGE_CYCLES_PER_M;
  const inside = [...cyclesPerM.keys()].filter((i) => cyclesPerM[i] >= lowest && cyclesPerM[i] <= highest);
  if (inside.length < FEWEST_BANDS)
    throw new RangeError(
      `a line needs ${FEWEST_BANDS} bands from ${lowest} to ${highest} cycles/m, got ${inside.length}`,
    );
  const x = inside.map((i) => Math.log(cyclesPerM[i] / REFERENCE_WAVENUMBER));
  const y = inside.map((i) => Math.log(densityM3[i]));
  const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
  const [middleX, middleY] = [mean(x), mean(y)];
  const slope =
    x.reduce((sum, value, i) => sum + (value - middleX) * (y[i] - middleY), 0) /
    x.reduce((sum, value) => sum + (value - middleX) ** 2, 0);
  return {
    gdM3: Math.exp(middleY - slope * middleX),
    waviness: -slope,
    gdAtWaviness2M3: Math.exp(middleY + CLASS_WAVINESS * middleX),
  };
}

/**
 * Roughness of a height profile: straight line taken off, spectrum by three sine tapers, smoothed, line fitted.
 *
 * @param heightM heights of one wheel track, evenly spaced, no gaps; not changed
 * @param spacingM distance of two heights, m
 * @throws RangeError for a profile below about 7 m, too short to resolve three bands of the line, or one read too coarsely
 */
export function profileRoughness(heightM: Readonly<Float64Array>, spacingM: number): StraightSpectrum {
  const { freqHz: cyclesPerM, psd } = multitaperSpectrum(withoutLine(heightM), 1 / spacingM, TAPERS);
  return fitStraightSpectrum(smoothedSpectrum(psd, cyclesPerM[1]));
}

interface SmoothingBand {
  readonly centre: number;
  readonly from: number;
  readonly to: number;
}

function smoothingBands(topCyclesPerM: number): SmoothingBand[] {
  const bands: SmoothingBand[] = [];
  const add = (perOctave: number, first: number, last: number): void => {
    for (let step = first; step <= last; step++) {
      const half = 2 ** (0.5 / perOctave);
      const centre = 2 ** (step / perOctave);
      bands.push({ centre, from: centre / half, to: centre * half });
    }
  };
  add(1, -9, -5);
  add(3, -13, -6);
  add(12, -22, Math.floor(12 * Math.log2(topCyclesPerM)));
  return bands;
}

/** Heights less their straight line of least squares. */
function withoutLine(heightM: Readonly<Float64Array>): Float64Array {
  const middle = (heightM.length - 1) / 2;
  let sum = 0;
  let moment = 0;
  let spread = 0;
  heightM.forEach((height, i) => {
    sum += height;
    moment += (i - middle) * height;
    spread += (i - middle) ** 2;
  });
  const mean = sum / heightM.length;
  const slope = moment / spread;
  return Float64Array.from(heightM, (height, i) => height - mean - slope * (i - middle));
}
