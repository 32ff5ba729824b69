/** The compiled loops of loops.as.ts. Each call has a memory of its own, which goes with it: these matrices take tens of megabytes. */
import { instancesOf, placeColumns, takeColumn, type Loops } from '../wasm-loops.js';
import { CODE } from './loops-code.js';

/** What the module exports; see loops.as.ts. */
interface DenseLoops extends Loops {
  readonly cholesky: (a: number, n: number) => number;
  readonly solveLowerRows: (factor: number, n: number, rows: number, count: number) => void;
  readonly addRowProducts: (sign: number, c: number, rows: number, count: number, length: number) => void;
}

let instances: (() => DenseLoops) | null | undefined;

/** Null where the engine cannot run them. */
function fresh(): DenseLoops | null {
  if (instances === undefined) instances = instancesOf<DenseLoops>(CODE);
  return instances?.() ?? null;
}

/** See choleskyLargeInPlace. @returns null where the engine cannot; nothing is changed then */
export function choleskySimd(a: Float64Array, n: number): boolean | null {
  const code = fresh();
  if (code === null) return null;
  const [at] = placeColumns(code, [a]).places;
  const isDefinite = code.cholesky(at, n) !== 0;
  takeColumn(code, at, a);
  return isDefinite;
}

/** See solveLowerRowsInPlace. @returns false where the engine cannot; nothing is changed then */
export function solveLowerRowsSimd(
  factor: Readonly<Float64Array>,
  n: number,
  rows: Float64Array,
  count: number,
): boolean {
  const code = fresh();
  if (code === null) return false;
  const [factorAt, rowsAt] = placeColumns(code, [factor, rows]).places;
  code.solveLowerRows(factorAt, n, rowsAt, count);
  takeColumn(code, rowsAt, rows);
  return true;
}

/** See addRowProducts. @returns false where the engine cannot; nothing is changed then */
export function addRowProductsSimd(
  sign: 1 | -1,
  c: Float64Array,
  rows: Readonly<Float64Array>,
  count: number,
  length: number,
): boolean {
  const code = fresh();
  if (code === null) return false;
  const [cAt, rowsAt] = placeColumns(code, [c, rows]).places;
  code.addRowProducts(sign, cAt, rowsAt, count, length);
  takeColumn(code, cAt, c);
  return true;
}
