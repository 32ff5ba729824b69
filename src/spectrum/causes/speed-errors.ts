/** The errors that the speed may have, as shares of it, with their probability beforehand. */

/** Columns of equal length. */
export interface SpeedErrors {
  /** True speed over the speed as given, minus 1. */
  readonly errors: Readonly<Float64Array>;
  /** Sums to 1. */
  readonly prior: Readonly<Float64Array>;
}

const REACH_SDS = 3;
/** Finer than the narrowest line of a wheel or a joint. */
const STEP = 0.0005;
const LEAST_SD = 0.001;

/** Normal errors out to three standard deviations; `sdShare` 0 stands for a speed measured to 0.1 %. */
export function speedErrors(sdShare: number): SpeedErrors {
  const sd = Math.max(sdShare, LEAST_SD);
  const half = Math.ceil((REACH_SDS * sd) / Math.min(STEP, sd / 4));
  const errors = Float64Array.from({ length: 2 * half + 1 }, (_, i) => ((i - half) / half) * REACH_SDS * sd);
  const prior = errors.map((error) => Math.exp(-0.5 * (error / sd) ** 2));
  const sum = prior.reduce((a, b) => a + b, 0);
  return { errors, prior: prior.map((p) => p / sum) };
}
