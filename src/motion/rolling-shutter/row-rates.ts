/**
 * What the path between the frames does not tell of the motion within them: after a knock the camera rings faster than
 * the frames can follow. Per frame, the six numbers of the pose and, for each of them, a cubic of the row time are
 * fitted to the observations, with the scene held: turn in rad and displacement in scene units at the last row (row
 * time u runs from -1 at the upper edge of the picture to 1 at the lower one; u = 0 is the pose).
 *
 * The cubics are departures from what row-motion.ts expects. How large they may be is learnt from the clip: their
 * coefficients are drawn from a Student distribution, one variance for each axis and power, found by expectation
 * maximisation (Dempster, Laird, Rubin 1977; Lange, Little, Taylor 1989). A smooth pass shrinks them to nothing; a
 * pass over joints frees the frames that the knocks fall in. Own derivation.
 */
import { choleskyInPlace, choleskySolveInPlace, inverseDiagonal } from '../../numerics/index.js';
import type { RowEquations } from './row-equations.js';
import { FIT_SIZE, RATE_NUMBERS } from './row-equations.js';

/** The cubics of a clip and what they are thought to be drawn from. */
export interface RowRates {
  /** RATE_NUMBERS per frame: six for u, six for u^2, six for u^3; turn then displacement. */
  readonly rates: Float64Array;
  /** Variance of each of the RATE_NUMBERS for an ordinary frame. */
  readonly variances: Float64Array;
  /** How ordinary each frame is: its variances are those of an ordinary one divided by this. */
  readonly ordinary: Float64Array;
}

/** Degrees of freedom of the Student distribution: few knocked frames among many smooth ones. */
const STUDENT_DOF = 4;
/**
 * Standard deviation to start from, as wide as the hardest knocks: a quarter of a degree over half a readout, displacements
 * as much in scene units. Started narrow, a lone knock would pass for noise and never get free.
 */
const FIRST_SD = (0.25 * Math.PI) / 180;
/** Below this (rad^2) a coefficient counts as zero. */
const LEAST_VARIANCE = 1e-16;
/** Keeps the pose solvable along directions that nothing informs, such as displacement in a scene without depth. */
const POSE_DAMPING = 1e-9;
const EMPTY_POSE = 1e-3;

/** Rates of a clip of which nothing is known yet. */
export function noRates(frameCount: number): RowRates {
  return {
    rates: new Float64Array(RATE_NUMBERS * frameCount),
    variances: new Float64Array(RATE_NUMBERS).fill(FIRST_SD ** 2),
    ordinary: new Float64Array(frameCount).fill(1),
  };
}

/** Fitted cubics, what goes with them, and how much of a given trend is in them. */
export interface FittedRates extends RowRates {
  /** Step of each pose, six per frame. */
  readonly poseSteps: Float64Array;
  /** How many times the trend the cubics hold, and its standard deviation; 0 and Infinity without a trend. */
  readonly trendShare: number;
  readonly trendShareSd: number;
}

/**
 * Fits the cubics of all frames and the distribution they come from.
 *
 * @param equations of residuals that have `before` taken off already
 * @param used frames to fit; the others keep zeros
 * @param trend cubics (RATE_NUMBERS per frame) of which the fitted ones may hold some share; the rest is the departure
 *   whose variance is learnt. The share is that of greatest marginal likelihood, cubics and poses integrated out.
 */
export function fitRates(
  equations: RowEquations,
  before: RowRates,
  used: readonly number[],
  rounds: number,
  trend: Float64Array | null = null,
): FittedRates {
  const frameCount = before.ordinary.length;
  const rates = new Float64Array(RATE_NUMBERS * frameCount);
  const poseSteps = new Float64Array(6 * frameCount);
  const variances = before.variances.slice();
  const ordinary = new Float64Array(frameCount).fill(1);
  const factor = new Float64Array(FIT_SIZE * FIT_SIZE);
  const x = new Float64Array(FIT_SIZE);
  const column = new Float64Array(FIT_SIZE);
  let share = 0;
  let information = 0;
  for (let round = 0; round < rounds; round++) {
    const sums = new Float64Array(RATE_NUMBERS);
    let fitted = 0;
    let score = 0;
    information = 0;
    for (const t of used) {
      const at = RATE_NUMBERS * t;
      const prior = (j: number): number => ordinary[t] / variances[j];
      const mean = (j: number): number => (trend ? share * trend[at + j] : 0);
      // The prior pulls the whole cubic, so what was taken off before counts against the step.
      equations.gradientOf(t, x);
      for (let j = 0; j < RATE_NUMBERS; j++) x[6 + j] += prior(j) * (mean(j) - before.rates[at + j]);
      if (!factorWithPrior(equations, t, prior, factor)) continue;
      choleskySolveInPlace(factor, x, FIT_SIZE);
      fitted++;
      let surprise = 0;
      for (let j = 0; j < RATE_NUMBERS; j++) {
        rates[at + j] = x[6 + j] + before.rates[at + j];
        const square = (rates[at + j] - mean(j)) ** 2 + inverseDiagonal(factor, 6 + j, FIT_SIZE, column);
        sums[j] += ordinary[t] * square;
        surprise += square / variances[j];
      }
      poseSteps.set(x.subarray(0, 6), 6 * t);
      if (trend) {
        // With P the prior: score h^T P (e - share h), information h^T (P - P (A + P)^-1 P) h.
        column.fill(0);
        for (let j = 0; j < RATE_NUMBERS; j++) column[6 + j] = prior(j) * trend[at + j];
        const pulled = column.slice();
        choleskySolveInPlace(factor, column, FIT_SIZE);
        for (let j = 0; j < RATE_NUMBERS; j++) {
          score += pulled[6 + j] * (rates[at + j] - mean(j));
          information += pulled[6 + j] * (trend[at + j] - column[6 + j]);
        }
      }
      ordinary[t] = (STUDENT_DOF + RATE_NUMBERS) / (STUDENT_DOF + surprise);
    }
    for (let j = 0; j < RATE_NUMBERS; j++)
      variances[j] = Math.max(sums[j] / Math.max(fitted, 1), LEAST_VARIANCE);
    if (information > 0) share += score / information;
  }
  const trendShareSd = information > 0 ? 1 / Math.sqrt(information) : Infinity;
  return { rates, variances, ordinary, poseSteps, trendShare: share, trendShareSd };
}

/** Cholesky factor of a frame's equations with their prior; false when the frame informs nothing. */
export function factorWithPrior(
  equations: RowEquations,
  t: number,
  prior: (j: number) => number,
  factor: Float64Array,
): boolean {
  equations.matrixOf(t, factor);
  for (let r = 0; r < 6; r++) {
    const at = (FIT_SIZE + 1) * r;
    factor[at] += POSE_DAMPING * factor[at] + EMPTY_POSE;
  }
  for (let j = 0; j < RATE_NUMBERS; j++) factor[(FIT_SIZE + 1) * (6 + j)] += prior(j);
  return choleskyInPlace(factor, FIT_SIZE);
}
