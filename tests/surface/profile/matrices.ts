/** Plain matrices as rows of numbers, slow and obvious: the other road on which results of the fast kernels are checked. */

export type Matrix = number[][];

export function matrix(rows: number, columns: number, entry: (i: number, j: number) => number): Matrix {
  return Array.from({ length: rows }, (_, i) => Array.from({ length: columns }, (__, j) => entry(i, j)));
}

export function transpose(a: Matrix): Matrix {
  return matrix(a[0].length, a.length, (i, j) => a[j][i]);
}

export function multiply(a: Matrix, b: Matrix): Matrix {
  return matrix(a.length, b[0].length, (i, j) => a[i].reduce((sum, value, k) => sum + value * b[k][j], 0));
}

export function add(a: Matrix, b: Matrix, factor = 1): Matrix {
  return a.map((row, i) => row.map((value, j) => value + factor * b[i][j]));
}

/** Inverse by elimination with pivots. */
export function inverse(a: Matrix): Matrix {
  const n = a.length;
  const work = a.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let r = c; r < n; r++) if (Math.abs(work[r][c]) > Math.abs(work[pivot][c])) pivot = r;
    [work[c], work[pivot]] = [work[pivot], work[c]];
    work[c] = work[c].map((value) => value / work[c][c]);
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const factor = work[r][c];
      work[r] = work[r].map((value, j) => value - factor * work[c][j]);
    }
  }
  return work.map((row) => row.slice(n));
}
