/**
 * Eigenvalues and eigenvectors of a real symmetric matrix of up to a few hundred rows: Householder reflections to three diagonals,
 * then implicit QL steps.
 *
 * Source: Bowdler, Martin, Reinsch and Wilkinson 1968 (QL), Householder 1958 [from memory].
 */

/** More QL steps than this for one eigenvalue do not occur; two are usual. */
const MAX_STEPS = 60;

/** A = V diag(values) V^T. */
export interface SymmetricEigen {
  /** Length n, rising. */
  readonly values: Float64Array;
  /** n * n numbers, row k is the unit eigenvector of values[k]; its sign is arbitrary. */
  readonly vectors: Float64Array;
}

/**
 * Decomposes a symmetric matrix. Cost about 6 n^3; the error of an eigenvalue is rounding against the largest one.
 *
 * @param a n * n numbers, row by row, finite, not changed; only the lower triangle is read
 * @param n order; 0 gives empty arrays
 * @throws RangeError when the size does not fit or a number is not finite
 */
export function symmetricEigen(a: Readonly<Float64Array>, n: number): SymmetricEigen {
  if (a.length !== n * n) throw new RangeError(`a must hold ${n * n} numbers, got ${a.length}`);
  const full = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const value = a[i * n + j];
      if (!Number.isFinite(value)) throw new RangeError(`a must be finite, got ${value} at ${i}, ${j}`);
      full[i * n + j] = full[j * n + i] = value;
    }
  }
  const vectors = new Float64Array(n * n);
  for (let i = 0; i < n; i++) vectors[i * n + i] = 1;
  const { diagonal, beside } = toThreeDiagonals(full, vectors, n);
  qlSteps(diagonal, beside, vectors, n);
  return inRisingOrder(diagonal, vectors, n);
}

/**
 * Reflects `a` to three diagonals, from the last row up; `vectors` comes in as the identity and becomes the reflections' product,
 * transposed. `beside[i]` lies between i and i + 1.
 */
function toThreeDiagonals(
  a: Float64Array,
  vectors: Float64Array,
  n: number,
): { diagonal: Float64Array; beside: Float64Array } {
  const diagonal = new Float64Array(n);
  const beside = new Float64Array(n);
  const reflected = new Float64Array(n);
  const reflectors: (Float64Array | null)[] = [];
  for (let m = n - 1; m >= 1; m--) {
    const u = a.slice(m * n, m * n + m);
    let square = 0;
    for (let j = 0; j < m; j++) square += u[j] ** 2;
    const length = Math.sqrt(square);
    beside[m - 1] = u[m - 1] > 0 ? -length : length;
    square -= u[m - 1] ** 2;
    u[m - 1] -= beside[m - 1];
    square += u[m - 1] ** 2;
    if (square === 0) {
      reflectors.push(null);
      continue;
    }
    const scale = Math.sqrt(2 / square);
    for (let j = 0; j < m; j++) u[j] *= scale;
    // A - u q' - q u', q = A u - u (u' A u) / 2, on the rows before m.
    let dot = 0;
    for (let i = 0; i < m; i++) {
      let sum = 0;
      for (let j = 0; j < m; j++) sum += a[i * n + j] * u[j];
      reflected[i] = sum;
      dot += sum * u[i];
    }
    for (let i = 0; i < m; i++) reflected[i] -= (dot / 2) * u[i];
    for (let i = 0; i < m; i++) {
      const ui = u[i];
      const qi = reflected[i];
      for (let j = 0; j < m; j++) a[i * n + j] -= ui * reflected[j] + qi * u[j];
    }
    reflectors.push(u);
  }
  for (let i = 0; i < n; i++) diagonal[i] = a[i * n + i];
  accumulate(reflectors, vectors, n);
  return { diagonal, beside };
}

/** Applies the reflections, last one first, to the identity; each touches its own leading block only. */
function accumulate(reflectors: readonly (Float64Array | null)[], vectors: Float64Array, n: number): void {
  const dots = new Float64Array(n);
  for (let r = reflectors.length - 1; r >= 0; r--) {
    const u = reflectors[r];
    if (u === null) continue;
    const m = u.length;
    dots.fill(0, 0, m);
    for (let j = 0; j < m; j++) {
      const uj = u[j];
      for (let k = 0; k < m; k++) dots[k] += uj * vectors[k * n + j];
    }
    for (let k = 0; k < m; k++) {
      const dot = dots[k];
      for (let j = 0; j < m; j++) vectors[k * n + j] -= dot * u[j];
    }
  }
}

/** QL steps with shifts until nothing stands beside the diagonal; the rows of `vectors` turn along. */
function qlSteps(d: Float64Array, e: Float64Array, vectors: Float64Array, n: number): void {
  for (let l = 0; l < n; l++) {
    for (let step = 0; ; step++) {
      let m = l;
      while (m < n - 1) {
        const size = Math.abs(d[m]) + Math.abs(d[m + 1]);
        if (Math.abs(e[m]) <= Number.EPSILON * size) break;
        m++;
      }
      if (m === l) break;
      if (step === MAX_STEPS) throw new RangeError(`no eigenvalue after ${MAX_STEPS} steps`);
      qlStep(d, e, vectors, n, l, m);
    }
  }
}

/** One implicit step on the block l..m. */
function qlStep(
  d: Float64Array,
  e: Float64Array,
  vectors: Float64Array,
  n: number,
  l: number,
  m: number,
): void {
  let g = (d[l + 1] - d[l]) / (2 * e[l]);
  let r = Math.hypot(g, 1);
  g = d[m] - d[l] + e[l] / (g + (g >= 0 ? r : -r));
  let s = 1;
  let c = 1;
  let p = 0;
  for (let i = m - 1; i >= l; i--) {
    const f = s * e[i];
    const b = c * e[i];
    r = Math.hypot(f, g);
    e[i + 1] = r;
    if (r === 0) {
      d[i + 1] -= p;
      e[m] = 0;
      return;
    }
    s = f / r;
    c = g / r;
    g = d[i + 1] - p;
    const t = (d[i] - g) * s + 2 * c * b;
    p = s * t;
    d[i + 1] = g + p;
    g = c * t - b;
    const upper = (i + 1) * n;
    const lower = i * n;
    for (let k = 0; k < n; k++) {
      const old = vectors[upper + k];
      vectors[upper + k] = s * vectors[lower + k] + c * old;
      vectors[lower + k] = c * vectors[lower + k] - s * old;
    }
  }
  d[l] -= p;
  e[l] = g;
  e[m] = 0;
}

function inRisingOrder(diagonal: Float64Array, rows: Float64Array, n: number): SymmetricEigen {
  const order = Array.from({ length: n }, (_, k) => k).sort((i, j) => diagonal[i] - diagonal[j]);
  const vectors = new Float64Array(n * n);
  order.forEach((from, to) => vectors.set(rows.subarray(from * n, (from + 1) * n), to * n));
  return { values: Float64Array.from(order, (k) => diagonal[k]), vectors };
}
