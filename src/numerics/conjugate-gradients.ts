/** Preconditioned conjugate gradients for large symmetric positive definite systems given only as a product. */

/** When to stop. */
export interface ConjugateGradientOptions {
  readonly maxIterations: number;
  /** Stop when r^T M^-1 r has fallen to this share of its start, 0..1. */
  readonly tolerance: number;
}

/** The solution so far and how it was reached. */
export interface ConjugateGradientResult {
  readonly x: Float64Array;
  readonly iterations: number;
  /** False when the iterations ran out first or the matrix proved not positive definite. */
  readonly converged: boolean;
}

/**
 * Solves A x = b from x = 0.
 *
 * @param multiply writes A x into `out` (both length n)
 * @param precondition writes M^-1 r into `out`, M an easy approximation of A; zero rows hold their unknowns at 0
 * @param b length n, not changed
 * @remarks Source: Hestenes & Stiefel 1952; Golub & Van Loan, Matrix Computations.
 */
export function conjugateGradients(
  multiply: (x: Float64Array, out: Float64Array) => void,
  precondition: (r: Float64Array, out: Float64Array) => void,
  b: Readonly<Float64Array>,
  { maxIterations, tolerance }: ConjugateGradientOptions,
): ConjugateGradientResult {
  const n = b.length;
  const x = new Float64Array(n);
  const r = new Float64Array(b);
  const z = new Float64Array(n);
  const product = new Float64Array(n);
  precondition(r, z);
  const direction = new Float64Array(z);
  const dot = (u: Float64Array, v: Float64Array): number => {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += u[i] * v[i];
    return sum;
  };
  let energy = dot(r, z);
  const enough = energy * tolerance;
  let iterations = 0;
  while (energy > enough && iterations < maxIterations) {
    multiply(direction, product);
    const curvature = dot(direction, product);
    if (!(curvature > 0)) return { x, iterations, converged: false };
    const step = energy / curvature;
    for (let i = 0; i < n; i++) {
      x[i] += step * direction[i];
      r[i] -= step * product[i];
    }
    precondition(r, z);
    const next = dot(r, z);
    const keep = next / energy;
    for (let i = 0; i < n; i++) direction[i] = z[i] + keep * direction[i];
    energy = next;
    iterations++;
  }
  return { x, iterations, converged: energy <= enough };
}
