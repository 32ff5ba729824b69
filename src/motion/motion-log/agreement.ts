/**
 * How far a motion log and the pictures agree on one axis, in the band that both see: correlation, gain with its interval,
 * RMS of both and of their difference (rad), and whether that is within what the noise of both allows.
 */
import { estimateAxis, meanSquareSd, passedShare } from '../estimate.js';
import type { CommonFrames } from './common.js';
import { sumDeviation } from './scatter.js';
import { dot, type ComparedMotion } from './video.js';
import type { AxisEstimate } from '../types.js';
import type { AngularAxis } from '../../run/index.js';

/** One axis of the comparison, radians. */
export interface AxisAgreement {
  /** Between the two columns, -1..1. */
  readonly correlation: number;
  /** Log over video, both allowed their noise; null when they hang together too little to tell. */
  readonly gain: number | null;
  readonly gainCi95: readonly [number, number] | null;
  /** RMS over the common frames, noise taken off. */
  readonly rmsVideo: number;
  readonly rmsLog: number;
  /** RMS of video minus log, noise of both included. */
  readonly rmsDifference: number;
  readonly agrees: boolean;
  /** The log's noise as an angle in the band, RMS. */
  readonly noiseLog: number;
}

/** Below this correlation a gain means nothing. */
const LEAST_FOR_GAIN = 0.5;
/** The difference may be this many times the noise of both: the floors are known to about half of themselves at worst. */
const MOST_DIFFERENCE = 2;
/** No picture is measured finer than this, rad; keeps a floor of 0 from dividing. */
const LEAST_FLOOR = 1e-12;
/** Of twenty 95 % intervals one misses; three axes are asked, so the interval is stretched to three deviations. */
const WIDENED = 1.5;
/** The sensitivity of a rate sensor is taken as known to this share; common practice, no source. */
const SCALE_DOUBT = 0.01;

/**
 * Compares one axis.
 *
 * They agree when the log's RMS lies in the video's interval (95 %, stretched to three
 * deviations), widened by the log's own doubt, and the difference is at most twice the noise of both.
 *
 * @param noiseLog of the log in the band, rad RMS
 */
export function compareAxis(
  axis: AngularAxis,
  motion: ComparedMotion,
  common: CommonFrames,
  noiseLog: number,
): AxisAgreement | null {
  const video = common.video.get(axis);
  const log = common.log.get(axis);
  if (!video || !log || video.length < 8) return null;
  const n = video.length;
  const estimate = videoEstimate(axis, motion, video);
  const seen = dot(video, video) / n;
  const logged = dot(log, log) / n;
  const both = dot(video, log) / n;
  const correlation = seen > 0 && logged > 0 ? both / Math.sqrt(seen * logged) : 0;
  const rmsDifference = Math.sqrt(Math.max(0, seen - 2 * both + logged));
  const rmsLog = Math.sqrt(Math.max(0, logged - noiseLog ** 2));
  const plain = estimate.plainFloor ?? estimate.floor;

  // Noise that falls with the square of the frequency above fc has as few independent values as a band 3 fc wide.
  const independent = (6 * motion.bandHz[0] * n) / motion.rateHz;
  const logDoubt = rmsLog > 0 ? meanSquareSd(noiseLog, rmsLog, independent) / (2 * rmsLog) : noiseLog;
  const [low, high] = estimate.status === 'below' ? [0, estimate.below] : (estimate.ci95 ?? [0, Infinity]);
  const middle = estimate.status === 'below' ? 0 : (estimate.rms ?? 0);
  const reach = (end: number): number =>
    WIDENED * Math.abs(end - middle) + 2 * logDoubt + SCALE_DOUBT * rmsLog;
  const within = rmsLog >= middle - reach(low) && rmsLog <= middle + reach(high);
  const noise = Math.hypot(estimate.floor, noiseLog, SCALE_DOUBT * rmsLog);
  return {
    correlation,
    ...(correlation >= LEAST_FOR_GAIN
      ? noisySlope(video, log, (noiseLog / Math.max(estimate.floor, LEAST_FLOOR)) ** 2, motion.rateHz)
      : { gain: null, gainCi95: null }),
    rmsVideo: Math.sqrt(Math.max(0, seen - plain ** 2)),
    rmsLog,
    rmsDifference,
    agrees: within && rmsDifference <= MOST_DIFFERENCE * noise,
    noiseLog,
  };
}

/** The video's own figures on the common frames: those of the clip when all of its frames are compared. */
function videoEstimate(axis: AngularAxis, motion: ComparedMotion, video: Float64Array): AxisEstimate {
  const whole = motion.axes[axis];
  if (video.length === motion.timeS.length - 2 * motion.trimFrames) return whole;
  const share = passedShare(motion.rateHz, motion.bandHz[0]);
  const noise = {
    plain: (whole.plainFloor ?? whole.floor) ** 2 / share,
    wide: whole.floor ** 2 / share,
  };
  return estimateAxis(video, noise, motion.rateHz, motion.bandHz[0]);
}

/** A slope with its interval. */
export interface NoisySlope {
  readonly gain: number;
  readonly gainCi95: readonly [number, number];
}

/**
 * Slope through 0 of log against video, both noisy (Deming 1943 [from memory]), and its interval from the residuals about the line,
 * which hang together in time.
 *
 * @param video rad, mean near 0, length n
 * @param log rad, length n, going with the video: the sum of their products is above 0
 * @param noiseRatio noise variance of the log over that of the video, 0 or more
 */
export function noisySlope(
  video: Readonly<Float64Array>,
  log: Readonly<Float64Array>,
  noiseRatio: number,
  rateHz: number,
): NoisySlope {
  const both = dot(video, log);
  const excess = dot(log, log) - noiseRatio * dot(video, video);
  const gain = (excess + Math.sqrt(excess ** 2 + 4 * noiseRatio * both ** 2)) / (2 * both);
  // Each frame's best guess of the true angle, from both sides by their noise, times its distance from the line.
  const score = Float64Array.from(
    video,
    (v, i) => ((noiseRatio * v + gain * log[i]) / (noiseRatio + gain * gain)) * (log[i] - gain * v),
  );
  const sd = (gain * sumDeviation(score, rateHz)) / both;
  return { gain, gainCi95: [gain - 1.96 * sd, gain + 1.96 * sd] };
}
