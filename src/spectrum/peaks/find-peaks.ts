/**
 * Spectral lines that stand out of the background of one vibration series: frequency, width, RMS and prominence, in
 * hertz and the unit of the series.
 *
 * One sine taper shows lines best (S1), five give a steadier background (S5, running median). A maximum of S1 counts
 * only above a threshold that allows for the number of bins searched, and only above the noise of the measurement.
 * What the detector does not know: the ripples that front and rear axle print on a floor spectrum; a peak on a
 * maximum (k - 1/2) v / wheelbase may be such a ripple. A broad resonance can show as two or three neighbouring peaks.
 *
 * Sources: sine tapers, Riedel & Sidorenko 1995; the rest own derivation.
 */
import { gammaQuantile, mean, multitaperSpectrum } from '../../numerics/index.js';
import { robustBackground } from './median-background.js';

/** What the search needs to know about the series. */
export interface PeakSearch {
  /** Band searched, Hz; cut to what the length of the series supports. */
  readonly bandHz: readonly [number, number];
  /** One-sided density of the measurement noise, (unit)^2 / Hz; 0 when unknown. */
  readonly noiseFloorPsd: number;
}

/** One line. */
export interface FoundPeak {
  readonly freqHz: number;
  /** Full width at half power, never below the resolution 1 / T. */
  readonly widthHz: number;
  /** RMS of the line in the unit of the series, background taken off; not corrected for any high-pass. */
  readonly rms: number;
  /** Height over the background, dB. */
  readonly prominenceDb: number;
}

/** Chance of a false line in one spectrum of pure noise. */
const FALSE_ALARM = 0.001;
/** A line must pass this many cycles in the series: fewer cannot be told from drift. */
const LEAST_CYCLES = 8;
/** Shorter series give no peaks. */
const LEAST_DURATION_S = 2;
/** Longer series are cut into equal parts whose spectra are averaged: real lines wander. */
const MOST_PART_S = 30;
const PADDING = 4;
const BACKGROUND_TAPERS = 5;
/** Nearest neighbour of a line that is looked for, in units of 1 / T: half the main lobe of the taper, and a margin. */
const BLOCKED_BINS = 1.75;
/** Peak of a sine of amplitude A in the one-taper spectrum: 4 / pi^2 * A^2 T. */
const LINE_HEIGHT = 4 / Math.PI ** 2;
/** Side lobes count this many times their envelope, because real lines are not quite pure. */
const SIDE_LOBE_MARGIN = 4;
/** A line 60 dB down from another may be a trace of that one's ends. */
const LEAST_LEAK = 1e-6;
const MOST_PEAKS = 12;

interface Spectra {
  readonly durationS: number;
  /** Independent averages: parts of the series. */
  readonly parts: number;
  readonly fineHz: Float64Array;
  readonly line: Float64Array;
  readonly coarseHz: Float64Array;
  readonly steady: Float64Array;
}

function average(columns: readonly Float64Array[]): Float64Array {
  return Float64Array.from(columns[0], (_, i) => columns.reduce((sum, c) => sum + c[i], 0) / columns.length);
}

function spectraOf(series: Readonly<Float64Array>, rateHz: number): Spectra {
  const parts = Math.max(1, Math.ceil(series.length / (MOST_PART_S * rateHz)));
  const length = Math.floor(series.length / parts);
  const pieces = Array.from({ length: parts }, (_, p) => {
    const piece = series.slice(p * length, (p + 1) * length);
    const centre = mean(piece);
    return piece.map((v) => v - centre);
  });
  const fine = pieces.map((p) => multitaperSpectrum(p, rateHz, 1, PADDING * length));
  const coarse = pieces.map((p) => multitaperSpectrum(p, rateHz, BACKGROUND_TAPERS));
  return {
    durationS: length / rateHz,
    parts,
    fineHz: fine[0].freqHz,
    line: average(fine.map((s) => s.psd)),
    coarseHz: coarse[0].freqHz,
    steady: average(coarse.map((s) => s.psd)),
  };
}

/** Vertex of the parabola through ln of three neighbouring ordinates: offset in steps (-0.5..0.5) and its ordinate. */
function vertex(psd: Readonly<Float64Array>, at: number): { offset: number; height: number } {
  const left = Math.log(psd[at - 1]);
  const middle = Math.log(psd[at]);
  const right = Math.log(psd[at + 1]);
  const bend = left - 2 * middle + right;
  const offset = bend < 0 ? (0.5 * (left - right)) / bend : 0;
  return { offset, height: Math.exp(middle - 0.25 * (left - right) * offset) };
}

/** Distance in steps from the vertex to half its height on one side, linear between ordinates. */
function halfPowerReach(
  psd: Readonly<Float64Array>,
  at: number,
  offset: number,
  half: number,
  side: 1 | -1,
): number {
  let i = at;
  while (i + side >= 0 && i + side < psd.length && psd[i + side] > half) i += side;
  const next = i + side;
  const share = next >= 0 && next < psd.length ? (psd[i] - half) / (psd[i] - psd[next]) : 0;
  return Math.max(0, (i - at) * side + share - offset * side);
}

/**
 * Side lobes of the sine taper at a distance of x bins from a line of height 1: the envelope of its spectrum, and far
 * away what the smoother makes of a line that breaks off at both ends.
 */
function sideLobe(x: number): number {
  return Math.max(1 / (4 * x * x - 1) ** 2, LEAST_LEAK);
}

/**
 * Finds the lines of one evenly spaced series, highest over the background first, at most 12.
 *
 * A series shorter than 2 s gives none, and no line of fewer than 8 cycles is reported. Series longer than 30 s are
 * searched in the average spectrum of equal parts. The side lobes of a line that was found are not taken for further
 * lines.
 *
 * The threshold allows one false line in 1000 spectra; because the background is estimated too, simulated noise,
 * white or sloping, 5 to 30 s long, shows one in up to 2 of 100. Floor-only shake through two axles shows one in 1-5
 * of 100 (10 s at 0.1-0.2 m/s), in 8-12 of 100 (20 s at 0.2 m/s, 10 s at 0.5 m/s), and in half (30 s at 0.5 m/s).
 *
 * @param series length n, vibration without gaps, any unit, not changed
 * @param rateHz samples per second
 */
export function findPeaks(
  series: Readonly<Float64Array>,
  rateHz: number,
  { bandHz, noiseFloorPsd }: PeakSearch,
): FoundPeak[] {
  if (series.length < LEAST_DURATION_S * rateHz) return [];
  const { durationS, parts, fineHz, line, coarseHz, steady } = spectraOf(series, rateHz);
  const lowHz = Math.max(bandHz[0], LEAST_CYCLES / durationS);
  const highHz = bandHz[1];

  const inBand = [...coarseHz.keys()].filter((i) => coarseHz[i] >= bandHz[0] && coarseHz[i] <= highHz);
  const band = {
    freqHz: Float64Array.from(inBand, (i) => coarseHz[i]),
    psd: Float64Array.from(inBand, (i) => steady[i]),
  };
  if (band.freqHz.length < BACKGROUND_TAPERS * 2 || band.psd.some((s) => !(s > 0))) return [];
  const level = robustBackground(band, BACKGROUND_TAPERS * parts);
  const background = (f: number): number => Math.max(level(f), noiseFloorPsd);

  // One taper on a padded grid holds about 1.5 independent ordinates per bin.
  const tries = 1.5 * band.freqHz.length;
  const threshold = gammaQuantile((1 - FALSE_ALARM) ** (1 / tries), parts) / parts;
  const candidates: number[] = [];
  for (let i = 1; i + 1 < line.length; i++) {
    if (fineHz[i] < lowHz || fineHz[i] > highHz || line[i] < line[i - 1] || line[i] <= line[i + 1]) continue;
    if (line[i] > threshold * background(fineHz[i])) candidates.push(i);
  }
  candidates.sort((a, b) => line[b] / background(fineHz[b]) - line[a] / background(fineHz[a]));

  const stepHz = fineHz[1];
  const found: { at: number; height: number; peak: FoundPeak }[] = [];
  for (const at of candidates) {
    if (found.length === MOST_PEAKS) break;
    const distances = found.map((f) => Math.abs(fineHz[at] - fineHz[f.at]) * durationS);
    if (distances.some((x) => x < BLOCKED_BINS)) continue;
    const leaked = found.reduce((sum, f, k) => sum + SIDE_LOBE_MARGIN * f.height * sideLobe(distances[k]), 0);
    const under = background(fineHz[at]);
    if (line[at] <= threshold * under + leaked) continue;
    const { offset, height } = vertex(line, at);
    const reach = (side: 1 | -1): number => halfPowerReach(line, at, offset, height / 2, side);
    found.push({
      at,
      height,
      peak: {
        freqHz: fineHz[at] + offset * stepHz,
        widthHz: Math.max((reach(-1) + reach(1)) * stepHz, 1 / durationS),
        rms: Math.sqrt((height - under) / (LINE_HEIGHT * durationS) / 2),
        prominenceDb: 10 * Math.log10(height / under),
      },
    });
  }
  return found.map((f) => f.peak).sort((a, b) => b.prominenceDb - a.prominenceDb);
}
