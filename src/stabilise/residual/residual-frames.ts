/**
 * Figures of one cause of residue over the frames of a clip, analysis px: RMS and 95th percentile, measuring noise taken
 * off, from the mean square of each frame over its picture.
 */
import { gammaQuantile, mean, quantile } from '../../numerics/index.js';
import type { Left } from './residual-types.js';

/** One cause of residue. */
export interface CauseFrames {
  readonly rms: number;
  /** Null where only a bound is known. */
  readonly p95: number | null;
  /** px^2 per frame without the ends, in the mean rms^2; null where frames are not told apart: noise, bounds. */
  readonly squares: Readonly<Float64Array> | null;
}

/** Nothing is left. */
export const NOTHING_LEFT: CauseFrames = { rms: 0, p95: 0, squares: null };

/**
 * A cause that was measured frame by frame, with its noise.
 *
 * @param squares mean square of each frame, noise included, without the ends; px^2
 * @param rms that of the cause alone: the frames are scaled down to it, so that noise does not count as extremes
 */
export function measuredCause(squares: Readonly<Float64Array>, rms: number): CauseFrames {
  const raw = squares.length > 0 ? mean(squares) : 0;
  if (!(raw > 0 && rms > 0)) return NOTHING_LEFT;
  const own = squares.map((square) => square * (rms ** 2 / raw));
  return { rms, p95: Math.sqrt(quantile(own, 0.95)), squares: own };
}

/**
 * A cause that is normal noise of mean squares `parts` in independent directions, px^2.
 *
 * The percentile is that of a chi-square with as many degrees of freedom as the sum acts like (Satterthwaite 1946,
 * Biometrics Bulletin 2).
 */
export function noiseCause(parts: readonly number[]): CauseFrames {
  const sum = parts.reduce((total, part) => total + part, 0);
  if (!(sum > 0)) return NOTHING_LEFT;
  const dof = sum ** 2 / parts.reduce((total, part) => total + part ** 2, 0);
  return {
    rms: Math.sqrt(sum),
    p95: Math.sqrt((sum * gammaQuantile(0.95, dof / 2)) / (dof / 2)),
    squares: null,
  };
}

/** A cause of which only an upper bound of the RMS is known. */
export function boundedCause(rms: number): CauseFrames {
  return { rms, p95: null, squares: null };
}

/**
 * Root of the sum of squares of causes that know nothing of each other. Frames that are not told apart count the same in
 * every frame; without any that are, the percentile is the root of the sum of squares, which is never too small.
 */
export function together(causes: readonly CauseFrames[]): CauseFrames {
  const rms = Math.hypot(...causes.map((cause) => cause.rms));
  if (causes.some((cause) => cause.p95 === null)) return boundedCause(rms);
  const measured = causes.flatMap((cause) => (cause.squares ? [cause.squares] : []));
  if (measured.length === 0) {
    return { rms, p95: Math.hypot(...causes.map((cause) => cause.p95 ?? 0)), squares: null };
  }
  const steady = causes.reduce((sum, cause) => sum + (cause.squares ? 0 : cause.rms ** 2), 0);
  const squares = measured[0].map((_, t) => measured.reduce((sum, of) => sum + of[t], steady));
  return { rms, p95: Math.sqrt(quantile(squares, 0.95)), squares };
}

/** A cause in px of the delivery and minutes of arc. */
export function leftOf(cause: CauseFrames, pxScale: number, arcMinPerPx: number): Left {
  const p95Px = cause.p95 === null ? null : cause.p95 * pxScale;
  const rmsPx = cause.rms * pxScale;
  return {
    rmsPx,
    p95Px,
    arcMinRms: rmsPx * arcMinPerPx,
    arcMinP95: p95Px === null ? null : p95Px * arcMinPerPx,
  };
}
