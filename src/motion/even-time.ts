/**
 * An even time base for series whose frames are not: dropped repeats, frames that could not be measured, container
 * time stamps rounded to milliseconds, and true variable rates. Seconds.
 */
import { median, resampleEven } from '../numerics/index.js';

/** Time stamps this near to an even grid were rounded by the container, not shot unevenly. */
const ROUNDING_S = 1.1e-3;

/** Time between two stamps from which what lies between them is a guess, seconds. */
export const LONG_GAP_S = 0.25;

/** The even time base, and how to bring a column with one value per stamp to it. */
export interface EvenTime {
  /** Length m, timeS[k] = timeS[0] + k / rateHz. */
  readonly timeS: Float64Array;
  readonly rateHz: number;
  /** Largest distance between a sample and the time stamp it stands for or came from. */
  readonly largestShiftS: number;
  /** Longest time between two stamps. */
  readonly longestGapS: number;
  /**
   * 1 for samples inside a gap longer than LONG_GAP_S and within `edgeS` of one, where series are bridged rather than
   * measured; null when there is no such gap.
   */
  inGap(edgeS: number): Uint8Array | null;
  /** Brings a smooth column to the even base by a spline; stamps on the grid keep their values. */
  resample(values: Float64Array): Float64Array;
  /** Brings a column to the even base by the nearest stamp, for figures that must not overshoot. */
  nearest(values: Float64Array): Float64Array;
}

/**
 * Finds the even base of some time stamps.
 *
 * A grid with holes stays on its grid and the holes are bridged; a true variable rate goes to its mean rate.
 *
 * @param stampS at least two, strictly rising
 */
export function evenTime(stampS: Float64Array): EvenTime {
  const last = stampS.length - 1;
  const intervals = stampS.subarray(1).map((s, k) => s - stampS[k]);
  const grid = snapToGrid(stampS, median(intervals));
  const times = grid?.timeS ?? stampS;
  const rateHz = grid?.rateHz ?? last / (stampS[last] - stampS[0]);
  const base = resampleEven(times, times, rateHz);
  const nearestStamp = new Int32Array(base.timeS.length);
  for (let k = 0, i = 0; k < nearestStamp.length; k++) {
    while (i < last && times[i + 1] - base.timeS[k] <= base.timeS[k] - times[i]) i++;
    nearestStamp[k] = i;
  }
  return {
    timeS: base.timeS,
    rateHz,
    largestShiftS: Math.max(base.largestShiftS, grid?.largestShiftS ?? 0),
    longestGapS: intervals.reduce((longest, gap) => Math.max(longest, gap), 0),
    inGap: (edgeS) => gapSamples(times, base.timeS, edgeS),
    resample: (values) => resampleEven(times, values, rateHz).values,
    nearest: (values) => Float64Array.from(nearestStamp, (i) => values[i]),
  };
}

function gapSamples(stamps: Float64Array, timeS: Float64Array, edgeS: number): Uint8Array | null {
  const inGap = new Uint8Array(timeS.length);
  for (let k = 1; k < stamps.length; k++) {
    if (stamps[k] - stamps[k - 1] <= LONG_GAP_S) continue;
    timeS.forEach((s, t) => {
      if (s > stamps[k - 1] - edgeS && s < stamps[k] + edgeS) inGap[t] = 1;
    });
  }
  return inGap.includes(1) ? inGap : null;
}

/** The grid t0 + k / rate through all stamps, by least squares over whole numbers k; null when they do not lie on one. */
function snapToGrid(
  stamps: Float64Array,
  intervalS: number,
): { timeS: Float64Array; rateHz: number; largestShiftS: number } | null {
  const n = stamps.length;
  const steps = new Float64Array(n);
  for (let k = 1; k < n; k++) {
    steps[k] = steps[k - 1] + Math.max(1, Math.round((stamps[k] - stamps[k - 1]) / intervalS));
  }
  const meanStep = steps.reduce((sum, k) => sum + k, 0) / n;
  const meanStamp = stamps.reduce((sum, s) => sum + s, 0) / n;
  let cross = 0;
  let square = 0;
  for (let k = 0; k < n; k++) {
    cross += (steps[k] - meanStep) * (stamps[k] - meanStamp);
    square += (steps[k] - meanStep) ** 2;
  }
  const slope = cross / square;
  const timeS = steps.map((k) => meanStamp + slope * (k - meanStep));
  const largestShiftS = timeS.reduce((most, s, k) => Math.max(most, Math.abs(s - stamps[k])), 0);
  if (largestShiftS > ROUNDING_S) return null;
  return { timeS, rateHz: 1 / slope, largestShiftS: largestShiftS < 1e-9 ? 0 : largestShiftS };
}
