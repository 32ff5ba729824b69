/**
 * The steps of the interior-point method behind `leastAbsolute`: min |E x - d|_1 subject to G x <= h, any units.
 *
 * Primal: E x - d = p - q and G x + s = h with p, q, s >= 0, objective sum(p + q). Dual: y and z with E^T y + G^T z = 0,
 * below = 1 - y >= 0 facing p, above = 1 + y >= 0 facing q, z >= 0 facing s. Eliminating all but dx leaves
 * (E^T A E + G^T B G) dx = b with A = 1 / (p / below + q / above) and B = z / s.
 */
import { addWeightedSquare, bandedCholeskyInPlace, bandedSolveInPlace } from './banded-cholesky.js';
import { addTransposed, multiplyRows, rowSpan, type SparseRows } from './sparse-rows.js';

/** Where the method stands. */
export interface Reached {
  readonly x: Float64Array;
  readonly objective: number;
  readonly gap: number;
  readonly violation: number;
  /** Largest entry of E^T y + G^T z, in entries of E. */
  readonly dualResidual: number;
}

/** Share of the objective of the start below which a gap is rounding: the optimum may be 0. */
const GAP_FLOOR = 1e-10;
/** Excess over the limits, per largest limit, that counts as none. */
const MET = 1e-9;
/** Residual of the dual equations, in entries of E, that counts as none: rounding keeps it near 1e-7 on long clips. */
const DUAL_MET = 1e-5;
/** Share of the way to the border that a step may go. */
const NEARLY_ALL = 0.9995;
/** Added to the diagonal of the normal matrix, as a share of it: the size of its rounding. */
const REGULARISATION = 1e-14;
const REFINEMENTS = 3;
/** Relative residual of the normal equations that needs no refinement. */
const REFINED = 1e-12;
/** Steps shorter than this get nowhere. */
const LEAST_STEP = 1e-8;

/** One programme and the present point of its central path; `step` moves the point. */
export class InteriorPoint {
  private readonly x: Float64Array;
  private readonly p: Float64Array;
  private readonly q: Float64Array;
  private readonly below: Float64Array;
  private readonly above: Float64Array;
  private readonly s: Float64Array;
  private readonly z: Float64Array;
  /** Residuals: of E x - d = p - q, of G x + s = h, of the dual equations. */
  private readonly termResidual: Float64Array;
  private readonly limitResidual: Float64Array;
  private readonly dualResidual: Float64Array;
  private readonly half: number;
  private readonly band: Float64Array;
  private readonly termWeight: Float64Array;
  private readonly limitWeight: Float64Array;
  private readonly termSide: Float64Array;
  private readonly limitSide: Float64Array;
  private readonly termWork: Float64Array;
  private readonly limitWork: Float64Array;
  private readonly dx: Float64Array;
  private readonly dp: Float64Array;
  private readonly dq: Float64Array;
  private readonly dy: Float64Array;
  private readonly ds: Float64Array;
  private readonly dz: Float64Array;
  private readonly side: Float64Array;
  private readonly rest: Float64Array;
  private objective = 0;
  private violation = 0;
  private readonly objectiveFloor: number;
  private readonly limitSize: number;
  private readonly termSize: number;

  constructor(
    private readonly terms: SparseRows,
    private readonly limits: SparseRows,
    start: Readonly<Float64Array>,
  ) {
    const n = start.length;
    const m = terms.right.length;
    const l = limits.right.length;
    const [ofTerms, ofLimits, ofUnknowns] = [m, l, n].map((length) => () => new Float64Array(length));
    this.x = new Float64Array(start);
    this.p = ofTerms();
    this.q = ofTerms();
    this.below = ofTerms().fill(1);
    this.above = ofTerms().fill(1);
    this.s = ofLimits();
    this.z = ofLimits();
    this.termResidual = ofTerms();
    this.limitResidual = ofLimits();
    this.dualResidual = ofUnknowns();
    this.half = Math.max(rowSpan(terms), rowSpan(limits));
    this.band = new Float64Array(n * (this.half + 1));
    this.termWeight = ofTerms();
    this.limitWeight = ofLimits();
    this.termSide = ofTerms();
    this.limitSide = ofLimits();
    this.termWork = ofTerms();
    this.limitWork = ofLimits();
    this.dx = ofUnknowns();
    this.dp = ofTerms();
    this.dq = ofTerms();
    this.dy = ofTerms();
    this.ds = ofLimits();
    this.dz = ofLimits();
    this.side = ofUnknowns();
    this.rest = ofUnknowns();
    this.begin();
    this.termSize = Math.max(Number.MIN_VALUE, largest(terms.coefficients));
    this.limitSize = Math.max(Number.MIN_VALUE, largest(limits.right));
    this.measure();
    this.objectiveFloor = GAP_FLOOR * (this.objective > 0 ? this.objective : this.complementarity());
  }

  /** A point off all borders: residuals split with a margin, slacks as they are or raised, products about equal. */
  private begin(): void {
    const { p, q, s, z, terms, limits } = this;
    multiplyRows(terms, this.x, p);
    let mean = 0;
    for (let i = 0; i < p.length; i++) {
      p[i] -= terms.right[i];
      mean += Math.abs(p[i]) / p.length;
    }
    multiplyRows(limits, this.x, s);
    let room = 0;
    for (let i = 0; i < s.length; i++) {
      s[i] = limits.right[i] - s[i];
      room += Math.abs(s[i]) / s.length;
    }
    const margin = mean > 0 ? mean : room > 0 ? room : 1;
    for (let i = 0; i < p.length; i++) {
      const residual = p[i];
      p[i] = Math.max(residual, 0) + margin;
      q[i] = Math.max(-residual, 0) + margin;
    }
    const least = 0.01 * (room > 0 ? room : 1);
    for (let i = 0; i < s.length; i++) {
      s[i] = Math.max(s[i], least);
      z[i] = margin / s[i];
    }
  }

  /** Residuals, objective and violation of the present point. */
  private measure(): void {
    const { terms, limits, x, p, q, s, z, below, above, termResidual, limitResidual, dualResidual } = this;
    multiplyRows(terms, x, termResidual);
    let objective = 0;
    for (let i = 0; i < p.length; i++) {
      const residual = termResidual[i] - terms.right[i];
      objective += Math.abs(residual);
      termResidual[i] = p[i] - q[i] - residual;
      this.termWork[i] = (above[i] - below[i]) / 2;
    }
    multiplyRows(limits, x, limitResidual);
    let violation = 0;
    for (let i = 0; i < s.length; i++) {
      const slack = limits.right[i] - limitResidual[i];
      violation = Math.max(violation, -slack);
      limitResidual[i] = slack - s[i];
    }
    dualResidual.fill(0);
    addTransposed(terms, this.termWork, dualResidual);
    addTransposed(limits, z, dualResidual);
    for (let i = 0; i < dualResidual.length; i++) dualResidual[i] = -dualResidual[i];
    this.objective = objective;
    this.violation = violation;
  }

  /** The present point; a copy. */
  reached(): Reached {
    return {
      x: new Float64Array(this.x),
      objective: this.objective,
      gap: this.complementarity() + Math.max(0, this.objective - sum(this.p, this.q)),
      violation: this.violation,
      dualResidual: largest(this.dualResidual) / this.termSize,
    };
  }

  /** Whether a point is the optimum to the wanted relative gap. */
  isSolved({ objective, gap, violation, dualResidual }: Reached, wantedGap: number): boolean {
    return (
      gap <= wantedGap * objective + this.objectiveFloor &&
      violation <= MET * this.limitSize &&
      dualResidual <= DUAL_MET
    );
  }

  /** Whether one point is to be preferred to another: limits first, then the gap. */
  isBetter(one: Reached, other: Reached): boolean {
    const allowed = MET * this.limitSize;
    if (one.violation > allowed || other.violation > allowed) return one.violation <= other.violation;
    return one.gap <= other.gap;
  }

  private complementarity(): number {
    const { p, q, s, z, below, above } = this;
    let total = 0;
    for (let i = 0; i < p.length; i++) total += p[i] * below[i] + q[i] * above[i];
    for (let i = 0; i < s.length; i++) total += s[i] * z[i];
    return total;
  }

  /** One predictor and corrector step; false when rounding leaves nothing to gain. */
  step(): boolean {
    const { p, q, s, z, below, above, dp, dq, dy, ds, dz } = this;
    const pairs = 2 * p.length + s.length;
    const mu = this.complementarity() / pairs;
    this.factorise();
    // Predictor: straight for the optimum.
    this.solve(0, false);
    const ahead = this.stepLengths(1);
    let after = 0;
    for (let i = 0; i < p.length; i++) {
      after += (p[i] + ahead.primal * dp[i]) * (below[i] - ahead.dual * dy[i]);
      after += (q[i] + ahead.primal * dq[i]) * (above[i] + ahead.dual * dy[i]);
    }
    for (let i = 0; i < s.length; i++) after += (s[i] + ahead.primal * ds[i]) * (z[i] + ahead.dual * dz[i]);
    const centring = Math.min(1, Math.max(0, after / pairs / mu)) ** 3;
    // Corrector: back to the central path, the curvature met by the predictor taken in.
    this.solve(centring * mu, true);
    const { primal, dual } = this.stepLengths(NEARLY_ALL);
    if (!(Math.max(primal, dual) > LEAST_STEP)) return false;
    for (let i = 0; i < this.x.length; i++) this.x[i] += primal * this.dx[i];
    for (let i = 0; i < p.length; i++) {
      p[i] += primal * dp[i];
      q[i] += primal * dq[i];
      below[i] -= dual * dy[i];
      above[i] += dual * dy[i];
    }
    for (let i = 0; i < s.length; i++) {
      s[i] += primal * ds[i];
      z[i] += dual * dz[i];
    }
    this.measure();
    return Number.isFinite(this.objective);
  }

  private factorise(): void {
    const { p, q, s, z, below, above, band, half, termWeight, limitWeight } = this;
    for (let i = 0; i < p.length; i++) termWeight[i] = 1 / (p[i] / below[i] + q[i] / above[i]);
    for (let i = 0; i < s.length; i++) limitWeight[i] = z[i] / s[i];
    band.fill(0);
    addWeightedSquare(band, half, this.terms, termWeight);
    addWeightedSquare(band, half, this.limits, limitWeight);
    for (let i = 0; i < band.length; i += half + 1) band[i] *= 1 + REGULARISATION;
    bandedCholeskyInPlace(band, half);
  }

  /** The direction towards products of `target`; with `corrected`, the products of the direction before are taken off. */
  private solve(target: number, corrected: boolean): void {
    const { p, q, s, z, below, above, dp, dq, dy, ds, dz, dx } = this;
    const { termWeight, limitWeight, termSide, limitSide, termResidual, limitResidual, termWork, limitWork } =
      this;
    // dp, dq and ds hold the wanted changes of the products until the direction is known.
    for (let i = 0; i < p.length; i++) {
      dp[i] = target - p[i] * below[i] + (corrected ? dp[i] * dy[i] : 0);
      dq[i] = target - q[i] * above[i] - (corrected ? dq[i] * dy[i] : 0);
      termSide[i] = termWeight[i] * (termResidual[i] + dp[i] / below[i] - dq[i] / above[i]);
    }
    for (let i = 0; i < s.length; i++) {
      ds[i] = target - s[i] * z[i] - (corrected ? ds[i] * dz[i] : 0);
      limitSide[i] = (ds[i] - z[i] * limitResidual[i]) / s[i];
      limitWork[i] = -limitSide[i];
    }
    this.side.set(this.dualResidual);
    addTransposed(this.terms, termSide, this.side);
    addTransposed(this.limits, limitWork, this.side);
    this.solveNormal();
    multiplyRows(this.terms, dx, termWork);
    for (let i = 0; i < p.length; i++) {
      dy[i] = termWeight[i] * termWork[i] - termSide[i];
      dp[i] = (dp[i] + p[i] * dy[i]) / below[i];
      dq[i] = (dq[i] - q[i] * dy[i]) / above[i];
    }
    multiplyRows(this.limits, dx, limitWork);
    for (let i = 0; i < s.length; i++) {
      dz[i] = limitWeight[i] * limitWork[i] + limitSide[i];
      ds[i] = limitResidual[i] - limitWork[i];
    }
  }

  /** dx from the normal equations, refined against the rounding of their factor. */
  private solveNormal(): void {
    const { dx, side, rest, band, half, terms, limits, termWork, limitWork, termWeight, limitWeight } = this;
    const size = largest(side);
    dx.fill(0);
    rest.set(side);
    let before = Infinity;
    for (let round = 0; round <= REFINEMENTS; round++) {
      bandedSolveInPlace(band, half, rest);
      for (let i = 0; i < dx.length; i++) dx[i] += rest[i];
      if (round === REFINEMENTS) break;
      multiplyRows(terms, dx, termWork);
      for (let i = 0; i < termWork.length; i++) termWork[i] *= -termWeight[i];
      multiplyRows(limits, dx, limitWork);
      for (let i = 0; i < limitWork.length; i++) limitWork[i] *= -limitWeight[i];
      rest.set(side);
      addTransposed(terms, termWork, rest);
      addTransposed(limits, limitWork, rest);
      const left = largest(rest);
      if (!(left > REFINED * size) || left > before / 2) break;
      before = left;
    }
  }

  /** Longest steps, at most 1, that keep `share` of the way to the border. */
  private stepLengths(share: number): { primal: number; dual: number } {
    const { p, q, s, z, below, above, dp, dq, dy, ds, dz } = this;
    let primal = 1 / share;
    let dual = 1 / share;
    for (let i = 0; i < p.length; i++) {
      if (dp[i] < 0) primal = Math.min(primal, -p[i] / dp[i]);
      if (dq[i] < 0) primal = Math.min(primal, -q[i] / dq[i]);
      if (dy[i] > 0) dual = Math.min(dual, below[i] / dy[i]);
      else if (dy[i] < 0) dual = Math.min(dual, -above[i] / dy[i]);
    }
    for (let i = 0; i < s.length; i++) {
      if (ds[i] < 0) primal = Math.min(primal, -s[i] / ds[i]);
      if (dz[i] < 0) dual = Math.min(dual, -z[i] / dz[i]);
    }
    return { primal: share * primal, dual: share * dual };
  }
}

function largest(values: Readonly<Float64Array>): number {
  let most = 0;
  for (let i = 0; i < values.length; i++) most = Math.max(most, Math.abs(values[i]));
  return most;
}

function sum(a: Readonly<Float64Array>, b: Readonly<Float64Array>): number {
  let total = 0;
  for (let i = 0; i < a.length; i++) total += a[i] + b[i];
  return total;
}
