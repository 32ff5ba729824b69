/**
 * The level of a floor spectrum that makes measured multitaper spectra most likely, as ln Gd(n0) with its standard deviation.
 *
 * Whittle likelihood: each ordinate S of expectation E adds S/E + ln E. Five overlapping tapers average five times and share
 * their data between about five neighbours, so one term per bin has the right weight (measured: claimed and true spread agree).
 */

/** One channel in the fit; columns of equal length, one per frequency bin. */
export interface FitChannel {
  readonly measured: Float64Array;
  /** Expectation over a floor of Gd(n0) = 1 m^3. */
  readonly floor: Float64Array;
  /** Expectation of the noise as stated. */
  readonly noise: Float64Array;
  /** 1 where the bin counts. */
  readonly keep: Uint8Array;
}

/** Where the likelihood peaks. */
export interface LevelFit {
  readonly lnLevel: number;
  /** From the Fisher information; large when the floor drowns in the noise. */
  readonly sd: number;
  /** Negative log likelihood at the peak. */
  readonly cost: number;
}

/** Searched range of Gd(n0), m^3: far smoother than ground rail to rougher than class H. */
const LOWEST_LN = Math.log(1e-12);
const HIGHEST_LN = Math.log(1);
const GRID_STEP = Math.log(10) / 2;
const LONGEST_STEP = 0.5;
const CONVERGED = 1e-7;
/** A level that has not settled by then fits so badly that its likelihood does not count. */
const MAX_ROUNDS = 12;
const BOUND_TOLERANCE = 1e-3;
/** Information that stands for none at all: a standard deviation of ln Gd of 30. */
const NO_INFORMATION = 1e-3;

/** Fits one level to all channels together; the grid first, since a start far off can lead scoring astray. */
export function fitLevel(channels: readonly FitChannel[]): LevelFit {
  let lnLevel = LOWEST_LN;
  let best = Infinity;
  for (let ln = LOWEST_LN; ln <= HIGHEST_LN; ln += GRID_STEP) {
    const cost = costAt(channels, ln);
    if (cost < best) {
      best = cost;
      lnLevel = ln;
    }
  }
  let information = NO_INFORMATION;
  for (let round = 0; round < MAX_ROUNDS; round++) {
    const slope = scoreAt(channels, lnLevel);
    information = Math.max(slope.information, NO_INFORMATION);
    const step = Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, -slope.gradient / information));
    const next = Math.max(LOWEST_LN, Math.min(HIGHEST_LN, lnLevel + step));
    const moved = Math.abs(next - lnLevel);
    lnLevel = next;
    if (moved < CONVERGED) break;
  }
  return { lnLevel, sd: 1 / Math.sqrt(information), cost: costAt(channels, lnLevel) };
}

/**
 * The highest ln Gd(n0) that the data still allow: where the cost has risen by `rise` above its least, one-sided.
 *
 * @param rise 1.35 for 95 % one-sided (1.645^2 / 2)
 */
export function highestLevel(channels: readonly FitChannel[], fit: LevelFit, rise: number): number {
  const allowed = (ln: number): boolean => costAt(channels, ln) <= fit.cost + rise;
  let inside = fit.lnLevel;
  let outside = inside + LONGEST_STEP;
  while (allowed(outside) && outside < HIGHEST_LN) {
    inside = outside;
    outside += LONGEST_STEP;
  }
  while (outside - inside > BOUND_TOLERANCE) {
    const middle = (inside + outside) / 2;
    if (allowed(middle)) inside = middle;
    else outside = middle;
  }
  return outside;
}

function costAt(channels: readonly FitChannel[], lnLevel: number): number {
  const level = Math.exp(lnLevel);
  let sum = 0;
  for (const { measured, floor, noise, keep } of channels) {
    for (let i = 0; i < measured.length; i++) {
      if (keep[i] === 0) continue;
      const expected = level * floor[i] + noise[i];
      sum += measured[i] / expected + Math.log(expected);
    }
  }
  return sum;
}

function scoreAt(
  channels: readonly FitChannel[],
  lnLevel: number,
): { gradient: number; information: number } {
  const level = Math.exp(lnLevel);
  let gradient = 0;
  let information = 0;
  for (const { measured, floor, noise, keep } of channels) {
    for (let i = 0; i < measured.length; i++) {
      if (keep[i] === 0) continue;
      const expected = level * floor[i] + noise[i];
      const share = (level * floor[i]) / expected;
      gradient += share * (1 - measured[i] / expected);
      information += share * share;
    }
  }
  return { gradient, information };
}
