/** Density, bands, spectrogram and peaks of one axis of the vibration, in the unit of the axis. */
import type { Motion } from '../motion/index.js';
import type { Axis } from '../run/index.js';
import type { Travel } from '../surface/index.js';
import { spectrogram, type Spectrogram } from './estimate/spectrogram.js';
import { thirdOctaves } from './estimate/third-octaves.js';
import { welch, type WelchSpectrum } from './estimate/welch.js';
import { findPeaks } from './peaks/find-peaks.js';
import type { FloorView } from './peaks/types.js';
import type { AxisSpectrum } from './types.js';

/** A series below this many samples (ends left out) has no spectrum. */
const LEAST_SAMPLES = 8;
/** ... and below this many no picture over time. */
const LEAST_SPECTROGRAM_SAMPLES = 16;

/** One axis, and how its density was estimated. */
export interface AxisEstimate {
  readonly spectrum: AxisSpectrum;
  readonly estimate: WelchSpectrum;
}

/**
 * Reads one axis.
 *
 * Density, bands and spectrogram leave the ends out that `motion.trimFrames` names. Peaks are looked for in the frames in which the dolly
 * rolled, all of them, since the tapers vanish at their ends.
 *
 * @param travel null when nothing is known of the speed: then peaks are looked for in the whole series
 * @param floor how the floor reaches this axis; null where no model of it holds
 * @returns null for an axis that is not observable, holds a gap or is too short
 */
export function axisSpectrum(
  motion: Motion,
  axis: Axis,
  travel: Travel | null,
  floor: FloorView | null,
): AxisEstimate | null {
  const { rateHz, trimFrames, bandHz, timeS } = motion;
  const whole = motion.vibration[axis];
  const series = whole.slice(trimFrames, Math.max(trimFrames, whole.length - trimFrames));
  const unusable = motion.axes[axis].status === 'notObservable' || whole.some((v) => !Number.isFinite(v));
  if (unusable || series.length < LEAST_SAMPLES) return null;

  const estimate = welch(series, rateHz);
  const noiseFloorPsd = noiseDensity(motion, axis);
  const [from, to] = travel === null ? [0, whole.length] : [travel.fromFrame, travel.toFrame];
  const finding = findPeaks({
    values: whole.slice(from, to),
    rateHz,
    cutoffHz: bandHz[0],
    noiseSd: Math.sqrt((noiseFloorPsd * rateHz) / 2),
    placeM: travel?.placeM ?? null,
    floor,
    rippleSpeedMps: axis === 'pan' ? null : (travel?.speedMps ?? null),
  });
  return {
    estimate,
    spectrum: {
      axis,
      freqHz: estimate.freqHz,
      psd: estimate.psd,
      noiseFloorPsd,
      thirdOctaves: thirdOctaves(series, rateHz, { bandHz, highPassHz: bandHz[0], noisePsd: noiseFloorPsd }),
      spectrogram: picture(series, motion, timeS[trimFrames], travel),
      finding,
    },
  };
}

function picture(
  series: Float64Array,
  { rateHz, bandHz, trimFrames }: Motion,
  startS: number,
  travel: Travel | null,
): Spectrogram | null {
  if (series.length < LEAST_SPECTROGRAM_SAMPLES) return null;
  const placeM = travel && placesOf(travel, trimFrames, series.length);
  return spectrogram(series, rateHz, { bandHz, startS, placeM });
}

/** Places at the frames of a series that starts at frame `first`; the dolly stands before and after the stretch in which it rolled. */
function placesOf({ placeM, fromFrame }: Travel, first: number, length: number): Float64Array {
  return Float64Array.from({ length }, (_, i) => {
    const at = first + i - fromFrame;
    return placeM[Math.max(0, Math.min(placeM.length - 1, at))];
  });
}

function meanSquare(x: Readonly<Float64Array>): number {
  return x.reduce((sum, v) => sum + v * v, 0) / x.length;
}

/** One-sided density of the noise of an axis, flat: the part that each frame adds, raised by what tracks share in coded pictures. */
function noiseDensity({ noiseSd, axes, rateHz, trimFrames }: Motion, axis: Axis): number {
  const kept = noiseSd[axis].subarray(trimFrames, Math.max(trimFrames, noiseSd[axis].length - trimFrames));
  const { floor, plainFloor } = axes[axis];
  const raised = plainFloor > 0 && Number.isFinite(floor) ? (floor / plainFloor) ** 2 : 1;
  const density = (2 * raised * meanSquare(kept)) / rateHz;
  return Number.isFinite(density) ? density : 0;
}
