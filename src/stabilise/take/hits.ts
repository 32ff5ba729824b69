/**
 * Finds hits (joints, thresholds, pebbles under the wheels) in the vibration of a clip: sudden events of 0.2 to 0.4 s that
 * stand out of the shake around them, and come again when the second axle passes. Units of the series do not matter.
 */
import { median } from '../../numerics/index.js';
import type { FrameSpan, Hit } from './longer-take-types.js';

/** Reach of the second difference: a kick bends the path within this time, the floor's shake is slower. */
const BEND_S = 0.08;
/** Bending is averaged (RMS) over this time: half a kick. */
const KICK_S = 0.2;
/** The shake around an event: so far to both sides, looked at every so often. */
const AROUND_S = 1.5;
const AROUND_STEP_S = 0.2;
/** Frames that a kick shakes, before and after the peak of its bending. */
const BEFORE_S = 0.2;
const AFTER_S = 0.32;
/**
 * A kick bends the path this many times as much as the median around it, and the more so the longer chance has had: by
 * `PER_LENGTH` for each e-fold beyond ten seconds. On simulated floors one steady pass in thirty then shows a hit that is none,
 * of passes whose level wanders by 30 % one in fourteen.
 */
const STANDS_OUT = 3;
const PER_LENGTH = 0.15;
const FROM_S = 10;
/** Times between the axles that are believed: 0.3 m at 1 m/s to 1 m at 0.2 m/s. */
const ECHO_S = [0.3, 5] as const;
/** Both kicks of one joint lie this close to the time between the axles. */
const ECHO_WITHIN_S = 0.1;

/**
 * Finds the hits of a clip.
 *
 * Each series is bent (second difference over 0.08 s, which leaves little of slow shake and most of a kick), and the RMS of
 * the bending over 0.2 s is held against its median, that of the whole clip or that of the 3 s around, whichever is more.
 * A floor whose level changes over seconds therefore has no hits. Kicks that follow one another by the time between the
 * axles are one hit; when that time is not given it is the one which pairs most kicks. Where half of the clip is kicks they
 * are the level, and none is found. The first and last 0.1 s show no hit.
 *
 * @param vibration series of equal length n
 * @param rateHz frames per second
 * @param echoS time from the first axle's kick to the second's; looked for unless given
 * @returns hits in order of time; spans of different hits do not overlap
 * @remarks Own derivation.
 */
export function findHits(
  vibration: readonly Readonly<Float64Array>[],
  rateHz: number,
  echoS?: number,
): Hit[] {
  const standing = standingOut(vibration, rateHz);
  const lengths = standing.length / rateHz / FROM_S;
  const threshold = STANDS_OUT + PER_LENGTH * Math.log(Math.max(1, lengths));
  const apart = Math.round(BEFORE_S * rateHz) + Math.round(AFTER_S * rateHz) + 1;
  const peaks = peaksAbove(standing, threshold, apart);
  return pairAxles(peaks, rateHz, echoS).map((axles) => ({
    spans: axles.map((peak) => spanAround(peak, rateHz, standing.length)),
  }));
}

/** Largest over the series of bending relative to the shake around, length n. */
function standingOut(vibration: readonly Readonly<Float64Array>[], rateHz: number): Float64Array {
  const most = new Float64Array(vibration[0]?.length ?? 0);
  for (const series of vibration) {
    const bending = bendingOf(series, rateHz);
    const level = levelAround(bending, rateHz);
    for (let t = 0; t < most.length; t++)
      if (level[t] > 0) most[t] = Math.max(most[t], bending[t] / level[t]);
  }
  return most;
}

/** RMS over 0.2 s of the second difference; 0 where the clip does not reach far enough. */
function bendingOf(series: Readonly<Float64Array>, rateHz: number): Float64Array {
  const n = series.length;
  const reach = Math.max(1, Math.round(BEND_S * rateHz));
  const half = Math.max(1, Math.round((KICK_S * rateHz - 1) / 2));
  const squares = new Float64Array(n + 1); // running sum
  for (let t = 0; t < n; t++) {
    const inside = t >= reach && t + reach < n;
    const bend = inside ? series[t + reach] - 2 * series[t] + series[t - reach] : 0;
    squares[t + 1] = squares[t] + bend * bend;
  }
  const bending = new Float64Array(n);
  for (let t = half; t + half < n; t++)
    bending[t] = Math.sqrt((squares[t + half + 1] - squares[t - half]) / (2 * half + 1));
  return bending;
}

/** The median around each frame, or that of the clip where it is larger. */
function levelAround(bending: Readonly<Float64Array>, rateHz: number): Float64Array {
  const n = bending.length;
  const level = new Float64Array(n);
  if (n === 0) return level;
  const whole = median(bending);
  const step = Math.max(1, Math.round(AROUND_STEP_S * rateHz));
  const reach = Math.round(AROUND_S * rateHz);
  for (let from = 0; from < n; from += step) {
    const middle = from + step / 2;
    const around = bending.subarray(Math.max(0, middle - reach), Math.min(n, middle + reach));
    level.fill(Math.max(whole, median(around)), from, Math.min(n, from + step));
  }
  return level;
}

/** Highest places above a threshold, at least `apart` frames from any higher one; in order of time. */
function peaksAbove(values: Readonly<Float64Array>, threshold: number, apart: number): number[] {
  const above: number[] = [];
  for (let t = 0; t < values.length; t++) if (values[t] > threshold) above.push(t);
  above.sort((a, b) => values[b] - values[a]);
  const peaks: number[] = [];
  for (const t of above) if (peaks.every((peak) => Math.abs(peak - t) >= apart)) peaks.push(t);
  return peaks.sort((a, b) => a - b);
}

/** Kicks of one hit side by side. */
function pairAxles(peaks: readonly number[], rateHz: number, echoS?: number): number[][] {
  const within = ECHO_WITHIN_S * rateHz;
  if (echoS !== undefined) return pairedBy(peaks, echoS * rateHz, within);
  let best = peaks.map((peak) => [peak]);
  for (let i = 0; i < peaks.length; i++) {
    for (let j = i + 1; j < peaks.length; j++) {
      const lag = peaks[j] - peaks[i];
      if (lag < ECHO_S[0] * rateHz || lag > ECHO_S[1] * rateHz) continue;
      const paired = pairedBy(peaks, lag, within);
      if (paired.length < best.length) best = paired;
    }
  }
  return best;
}

function pairedBy(peaks: readonly number[], lag: number, within: number): number[][] {
  const taken = new Set<number>();
  const hits: number[][] = [];
  for (const first of peaks) {
    if (taken.has(first)) continue;
    const second = peaks.find((peak) => !taken.has(peak) && Math.abs(peak - first - lag) <= within);
    taken.add(first);
    if (second === undefined) hits.push([first]);
    else {
      taken.add(second);
      hits.push([first, second]);
    }
  }
  return hits;
}

function spanAround(peak: number, rateHz: number, length: number): FrameSpan {
  return {
    from: Math.max(0, peak - Math.round(BEFORE_S * rateHz)),
    to: Math.min(length, peak + Math.round(AFTER_S * rateHz) + 1),
  };
}
