/** The light of a clip as even series: natural logarithm of the grey level of each band, slow changes taken off, no unit. */
import { fourthDifferenceVibration, median } from '../../numerics/index.js';
import type { FrameLevels } from '../../tracking/index.js';

/** Below this frequency light also changes by exposure, clouds and what comes into the picture; half amplitude, Hz. */
export const LIGHT_CUTOFF_HZ = 0.5;

/** Fewest frames in which a line can be told from what is around it. */
const FEWEST_FRAMES = 48;
/** Share of the frames that may be missing between the first and the last. */
const MOST_MISSING = 0.1;
/** How far time stamps may lie off the beat of the camera, s RMS: a lamp at 120 Hz turns by an eighth in that time. */
const MOST_UNEVEN_S = 0.001;
/** Darker bands hold no light to speak of: levels below this are taken as it. */
const DARKEST_GREY = 1;

/** The light on the beat of the camera. */
export interface LightSeries {
  /** Frames per second as the camera took them, repeats and gaps aside. */
  readonly rateHz: number;
  /** One column for each band, top first, equal lengths; relative changes of the grey level about 0. */
  readonly bands: readonly Float64Array[];
}

/**
 * Puts the levels on the beat of the camera: frames that are missing are filled in on a straight line.
 *
 * A resampling by time would be wrong here: a lamp at 100 Hz is no slow function of time between frames, only from beat to beat.
 *
 * @param levels not changed
 * @returns null for fewer than 48 frames, for time stamps that keep no beat, and where a tenth of the frames is missing
 */
export function lightSeries({ timeS, bands, mean }: FrameLevels): LightSeries | null {
  const count = timeS.length;
  if (count < FEWEST_FRAMES) return null;
  const beats = beatsOf(timeS);
  const length = beats[count - 1] + 1;
  if (count < (1 - MOST_MISSING) * length) return null;
  const line = straightLine(beats, timeS);
  if (line === null || line.residual > MOST_UNEVEN_S) return null;
  const rateHz = 1 / line.slope;
  if (rateHz <= 2 * LIGHT_CUTOFF_HZ) return null;
  const column = (band: number): Float64Array => {
    const level = (frame: number): number => Math.log(Math.max(mean[frame * bands + band], DARKEST_GREY));
    const even = new Float64Array(length);
    even[0] = level(0);
    for (let frame = 1; frame < count; frame++) {
      const from = beats[frame - 1];
      const steps = beats[frame] - from;
      for (let s = 1; s <= steps; s++)
        even[from + s] = level(frame - 1) + ((level(frame) - level(frame - 1)) * s) / steps;
    }
    return fourthDifferenceVibration(even, rateHz, LIGHT_CUTOFF_HZ);
  };
  return { rateHz, bands: Array.from({ length: bands }, (_, band) => column(band)) };
}

/** The beat that each frame was taken on, from 0: gaps are whole numbers of the usual distance. */
function beatsOf(timeS: Readonly<Float64Array>): Int32Array {
  const gaps = Float64Array.from({ length: timeS.length - 1 }, (_, i) => timeS[i + 1] - timeS[i]);
  const usual = median(gaps);
  const beats = new Int32Array(timeS.length);
  for (let i = 0; i < gaps.length; i++) beats[i + 1] = beats[i] + Math.max(1, Math.round(gaps[i] / usual));
  return beats;
}

/** Least squares of y over x: slope, and RMS of what is left; null for a slope that is not positive. */
function straightLine(
  x: Int32Array,
  y: Readonly<Float64Array>,
): { readonly slope: number; readonly residual: number } | null {
  const n = x.length;
  let mx = 0;
  let my = 0;
  for (let i = 0; i < n; i++) {
    mx += x[i] / n;
    my += y[i] / n;
  }
  let xx = 0;
  let xy = 0;
  for (let i = 0; i < n; i++) {
    xx += (x[i] - mx) ** 2;
    xy += (x[i] - mx) * (y[i] - my);
  }
  const slope = xy / xx;
  let squares = 0;
  for (let i = 0; i < n; i++) squares += (y[i] - my - slope * (x[i] - mx)) ** 2;
  return slope > 0 ? { slope, residual: Math.sqrt(squares / n) } : null;
}
