/**
 * Setup alone at unequal speeds: the shake of each pass in the band of wavelengths on the floor that all of them see, lines of machines
 * and wheels taken out first. Metres of wavelength, hertz.
 *
 * No power of the speed puts RMS right: on simulated floors ln RMS scattered by 0.08 from 0.2 to 0.3 m/s and by 0.19 from 0.1 to 0.3,
 * over wheelbases of 0.3 to 0.9 m. In a common band of wavelengths one setup reads 2 to 3 % higher at the faster speed. Own derivation.
 */
import type { Axis } from '../../run/index.js';
import { comparisonTexts } from '../../texts/index.js';
import { bandLevel, type PassLevel, type PassSpectrum } from './pass-level.js';
import type { PreparedPass } from './prepared-pass.js';

/** What the common band leaves between speeds: high-pass, exposure and folding; sd of ln RMS. */
export const WAVELENGTH_SD = 0.03;
/** Below this span the band says too little of the floor. */
const LEAST_SPAN = 1.5;
/** The band keeps off the cut-off of the split, and off half the frame rate. */
const ABOVE_CUTOFF = 1.25;
const LOWEST_HZ = 1;
const TOP_SHARE_OF_RATE = 0.4;
/** Cells to each side of a line that three sine tapers spread it over, and as many beyond that stand for the level without it. */
const LINE_CELLS = 3;

/** Wavelengths that every pass sees, shortest first; or why none. */
export function commonWavelengths(passes: readonly PreparedPass[]): {
  readonly bandM: readonly [number, number] | null;
  readonly refused: string | null;
} {
  const speeds = passes.map(({ speedMps }) => speedMps ?? NaN);
  const rateHz = Math.min(...passes.map((pass) => pass.rateHz));
  const topHz = Math.min(TOP_SHARE_OF_RATE * rateHz, ...passes.map(({ bandHz }) => bandHz[1]));
  const lowHz = Math.max(LOWEST_HZ, ...passes.map(({ bandHz }) => ABOVE_CUTOFF * bandHz[0]));
  const shortest = Math.max(...speeds) / topHz;
  const longest = Math.min(...speeds) / lowHz;
  if (longest / shortest >= LEAST_SPAN) return { bandM: [shortest, longest], refused: null };
  return {
    bandM: null,
    refused: comparisonTexts.speedsTooFarApart,
  };
}

/** The level of a pass within a band of wavelengths, lines out; null where the pass cannot tell. */
export function levelWithin(
  pass: PreparedPass,
  axis: Axis,
  [shortestM, longestM]: readonly [number, number],
): PassLevel | null {
  const spectrum = pass.axes[axis]?.spectrum;
  const { speedMps } = pass;
  if (!spectrum || speedMps === null) return null;
  const lines = linesWithin(pass, axis, [shortestM, longestM]).map(({ freqHz }) => freqHz);
  return bandLevel(withoutLines(spectrum, lines), speedMps / longestM, speedMps / shortestM);
}

/** A line of a pass on one axis. */
export interface ShakeLine {
  readonly freqHz: number;
  /** In the unit of the run document. */
  readonly rms: number;
  readonly unit: string;
}

/** The lines that were found on an axis within a band of wavelengths, lowest frequency first; none where the speed is not known. */
export function linesWithin(
  { compared, speedMps }: PreparedPass,
  axis: Axis,
  [shortestM, longestM]: readonly [number, number],
): ShakeLine[] {
  if (speedMps === null) return [];
  return compared.pass.sections.spectrum.peaks
    .filter((peak) => peak.axis === axis && peak.shape === 'line')
    .filter(({ freqHz }) => freqHz >= speedMps / longestM && freqHz <= speedMps / shortestM)
    .map(({ freqHz, rms, unit }) => ({ freqHz, rms, unit }))
    .sort((one, other) => one.freqHz - other.freqHz);
}

/** The spectrum with the cells round each line at the level of the cells beside them. */
export function withoutLines(spectrum: PassSpectrum, linesHz: readonly number[]): PassSpectrum {
  const { freqHz } = spectrum;
  const psd = Float64Array.from(spectrum.psd);
  const cellHz = freqHz[1] - freqHz[0];
  for (const lineHz of linesHz) {
    const middle = Math.round(lineHz / cellHz);
    const beside: number[] = [];
    for (let off = LINE_CELLS + 1; off <= 2 * LINE_CELLS; off++)
      for (const bin of [middle - off, middle + off])
        if (bin >= 1 && bin < psd.length) beside.push(spectrum.psd[bin]);
    if (beside.length === 0) continue;
    const level = beside.reduce((sum, value) => sum + value, 0) / beside.length;
    for (
      let bin = Math.max(1, middle - LINE_CELLS);
      bin <= Math.min(psd.length - 1, middle + LINE_CELLS);
      bin++
    )
      psd[bin] = Math.min(psd[bin], level);
  }
  return { ...spectrum, psd };
}
