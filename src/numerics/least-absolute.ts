/**
 * The linear programme "make a weighted sum of absolute values least, within linear limits", for rows that touch only
 * neighbouring unknowns: min |E x - d|_1 subject to G x <= h, any units.
 *
 * A primal-dual interior-point method with Mehrotra's predictor and corrector (SIAM J. Optimization 2, 1992; S. Wright,
 * Primal-Dual Interior-Point Methods, 1997). E x - d is written as p - q with p, q >= 0 and G x + s = h with s >= 0; each
 * step then comes down to one banded positive definite system E^T A E + G^T B G with diagonal A and B, so that memory and
 * the cost of a step grow linearly with the number of unknowns. Where the optimum is not unique, the middle of the optimal
 * set is approached. The elimination for this form of the programme is our own (`interior-point.ts`).
 */
import { InteriorPoint } from './interior-point.js';
import type { SparseRows } from './sparse-rows.js';

/** When to stop. */
export interface LeastAbsoluteOptions {
  /** Duality gap per objective at which the solution counts as found. */
  readonly gap?: number;
  readonly maxIterations?: number;
}

/** Defaults of the options. */
export const LEAST_ABSOLUTE_DEFAULTS = { gap: 1e-7, maxIterations: 80 } as const;

/** The solution, and how far it can be from the best. */
export interface LeastAbsolute {
  readonly x: Float64Array;
  /** |E x - d|_1. */
  readonly objective: number;
  /** Objective minus the lower bound that the dual variables give, unit of the objective. */
  readonly gap: number;
  /** Largest G x - h, 0 when all limits hold. */
  readonly violation: number;
  readonly iterations: number;
  /** False when the iterations ran out or rounding stopped the method first; x is the best that was reached. */
  readonly converged: boolean;
}

/**
 * Solves min |E x - d|_1 subject to G x <= h.
 *
 * Deterministic. The limits must leave room: a programme whose limits contradict each other comes back not converged,
 * with the violation said.
 *
 * @param terms E and d, the weights multiplied in
 * @param limits G and h; no rows for no limits
 * @param start first x, length of the unknowns, not changed; need not keep the limits
 * @throws RangeError when the rows hold something that is no number
 * @example leastAbsolute(terms, limits, new Float64Array(n)).objective
 */
export function leastAbsolute(
  terms: SparseRows,
  limits: SparseRows,
  start: Readonly<Float64Array>,
  options: LeastAbsoluteOptions = {},
): LeastAbsolute {
  const { gap: wantedGap, maxIterations } = { ...LEAST_ABSOLUTE_DEFAULTS, ...options };
  checkFinite(terms, 'terms');
  checkFinite(limits, 'limits');
  const programme = new InteriorPoint(terms, limits, start);
  let reached = programme.reached();
  let best = reached;
  let iterations = 0;
  while (!programme.isSolved(reached, wantedGap) && iterations < maxIterations && programme.step()) {
    iterations++;
    reached = programme.reached();
    if (programme.isBetter(reached, best)) best = reached;
  }
  return {
    x: best.x,
    objective: best.objective,
    gap: best.gap,
    violation: best.violation,
    iterations,
    converged: programme.isSolved(best, wantedGap),
  };
}

function checkFinite({ coefficients, right }: SparseRows, name: string): void {
  for (const values of [coefficients, right]) {
    for (const value of values)
      if (!Number.isFinite(value)) throw new RangeError(`${name} must be finite, got ${value}`);
  }
}
