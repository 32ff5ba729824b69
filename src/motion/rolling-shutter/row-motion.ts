/**
 * How the camera moved between the middle row of a frame and any other of its rows, from the series of a path: turn w
 * (rad) and displacement d (unit of the centres) in the camera's own axes, per frame and row band.
 *
 * A sensor read row by row from top to bottom sees the row at share v of the height at s = readout (v - 1/2) after its
 * middle row. The path between the frames follows from all frames together: each series is taken as band-limited and
 * moved in time by its spectrum, exp(2 pi i f s). Neighbouring frames alone are no substitute: their difference halves a
 * vibration at half of the highest frequency. Own derivation.
 */
import { inverseRealFft, realFft } from '../../numerics/index.js';
import { AXES } from '../../run/index.js';
import { AXIS_SIGN, AXIS_SOURCE } from '../axis-noise.js';
import { pick } from '../clip-series.js';
import { evenTime } from '../even-time.js';
import type { Scene } from '../scene.js';
import { poseSeries } from '../series.js';

/** Bands of rows; within a band the motion is taken as linear. */
export const ROW_BANDS = 16;
const ROW_EDGES = ROW_BANDS + 1;
/** Numbers per frame: six for each edge between bands, from the upper edge of the picture to the lower one. */
export const ROW_NUMBERS = 6 * ROW_EDGES;

/** From this share of the highest frequency up, motion between frames cannot be told from its mirror image: faded out. */
const TAPER_FROM = 0.85;
/** Stamps this near to a sample of the even time base (in samples) are that sample. */
const SAME_SAMPLE = 0.05;

/** Row share of edge k, less one half: the factor of the readout in the time of that edge. */
export const edgeShare = (k: number): number => k / ROW_BANDS - 0.5;

/**
 * Motion from the middle row to each edge of the row bands, ROW_NUMBERS per frame: (w, d) of the first edge, then of
 * the next.
 *
 * @param used frames whose pose counts, rising; the others get zeros
 * @param timeS stamp of every frame of the scene, seconds
 */
export function rowMotion(
  scene: Scene,
  used: readonly number[],
  timeS: Float64Array,
  readoutS: number,
): Float64Array {
  const frameCount = scene.centres.length / 3;
  const motion = new Float64Array(ROW_NUMBERS * frameCount);
  if (used.length < 3) return motion;
  const stamps = pick(timeS, used, 1);
  const time = evenTime(stamps);
  const series = poseSeries(pick(scene.rotations, used, 9), pick(scene.centres, used, 3));
  const at = Float64Array.from(stamps, (s) => placeOf((s - time.timeS[0]) * time.rateHz));
  AXES.forEach((axis, a) => {
    const shift = timeShifter(time.resample(series[axis]));
    for (let edge = 0; edge < ROW_EDGES; edge++) {
      const change = shift(edgeShare(edge) * readoutS * time.rateHz);
      used.forEach((t, k) => {
        motion[ROW_NUMBERS * t + 6 * edge + AXIS_SOURCE[a]] = AXIS_SIGN[a] * between(change, at[k]);
      });
    }
  });
  return motion;
}

/**
 * Prepares a series for moves in time; the function returned gives series(t + s) - series(t) at every sample, s in
 * samples.
 *
 * The line from the first to the last sample is taken out, and the rest continued oddly beyond both ends, so that the
 * transform sees no jump.
 */
export function timeShifter(series: Float64Array): (shiftSamples: number) => Float64Array {
  const n = series.length;
  if (n < 3) return () => new Float64Array(n);
  const size = 2 * (n - 1);
  const slope = (series[n - 1] - series[0]) / (n - 1);
  const odd = new Float64Array(size);
  for (let t = 1; t < n - 1; t++) {
    odd[t] = series[t] - series[0] - slope * t;
    odd[size - t] = -odd[t];
  }
  const { re, im } = realFft(odd, size);
  return (shiftSamples) => {
    const outRe = new Float64Array(re.length);
    const outIm = new Float64Array(im.length);
    for (let k = 0; k < re.length; k++) {
      const share = k / (n - 1);
      const kept = Math.min(1, (1 - share) / (1 - TAPER_FROM));
      const phase = Math.PI * share * shiftSamples;
      const c = kept * (Math.cos(phase) - 1);
      const s = kept * Math.sin(phase);
      outRe[k] = c * re[k] - s * im[k];
      outIm[k] = c * im[k] + s * re[k];
    }
    const change = inverseRealFft(outRe, outIm, size).subarray(0, n);
    return change.map((value) => value + slope * shiftSamples);
  };
}

function placeOf(sample: number): number {
  const nearest = Math.round(sample);
  return Math.abs(sample - nearest) < SAME_SAMPLE ? nearest : sample;
}

function between(column: Float64Array, at: number): number {
  const low = Math.max(0, Math.min(column.length - 1, Math.floor(at)));
  const high = Math.min(column.length - 1, low + 1);
  return column[low] + (at - low) * (column[high] - column[low]);
}
