/**
 * The golden quarter car of the International Roughness Index at 80 km/h, driven by the slope of a profile; slopes in m/m or mm/m.
 *
 * Parameters and method: Sayers et al., World Bank Technical Paper 46 (1986), as read in public code under the MIT licence
 * (Sroubek, Sorel, Zak 2021). It answers to waves of 1.3-30 m at road speed: a check of profiles, no grade for a slow dolly.
 */

const TYRE = 653;
const SPRING = 63.3;
const DAMPER = 6;
const WHEEL_MASS = 0.15;
const SPEED_MPS = 80 / 3.6;

/** x' = A x + b * slope, with x = body slope and its rate, wheel slope and its rate; in time. */
const A = [
  [0, 1, 0, 0],
  [-SPRING, -DAMPER, SPRING, DAMPER],
  [0, 0, 0, 1],
  [SPRING / WHEEL_MASS, DAMPER / WHEEL_MASS, -(TYRE + SPRING) / WHEEL_MASS, -DAMPER / WHEEL_MASS],
];
const B = [0, 0, 0, TYRE / WHEEL_MASS];

/** Exact step over one reading: x <- S x + P slope. */
export interface QuarterCarStep {
  readonly s: readonly (readonly number[])[];
  readonly p: readonly number[];
}

/** S and P for readings `spacingM` apart: the exponential of [[A, b], [0, 0]] times the step. */
export function quarterCarStep(spacingM: number): QuarterCarStep {
  const stepS = spacingM / SPEED_MPS;
  const bordered = [...A.map((row, i) => [...row, B[i]]), [0, 0, 0, 0, 0]];
  const exponential = matrixExponential(bordered.map((row) => row.map((value) => value * stepS)));
  return {
    s: exponential.slice(0, 4).map((row) => row.slice(0, 4)),
    p: exponential.slice(0, 4).map((row) => row[4]),
  };
}

/** |zs' - zu'| at every slope of a profile; the car starts at rest on the mean slope of the first 11.11 m unless `startAtZero`. */
export function quarterCarResponse(
  heightM: Readonly<Float64Array>,
  spacingM: number,
  startAtZero = false,
): Float64Array {
  const { s, p } = quarterCarStep(spacingM);
  const slope = Float64Array.from(
    { length: heightM.length - 1 },
    (_, i) => (heightM[i + 1] - heightM[i]) / spacingM,
  );
  const head = slope.subarray(0, Math.max(1, Math.round((0.5 * SPEED_MPS) / spacingM)));
  const start = startAtZero ? 0 : head.reduce((sum, value) => sum + value, 0) / head.length;
  let x = [start, 0, start, 0];
  return slope.map((drive) => {
    x = s.map((row, i) => row.reduce((sum, value, j) => sum + value * x[j], p[i] * drive));
    return Math.abs(x[0] - x[2]);
  });
}

/** Gain from the slope of a sine profile to the suspension's slope, in the steady state. */
export function quarterCarGain(wavelengthM: number): number {
  const omega = (2 * Math.PI * SPEED_MPS) / wavelengthM;
  // Body and wheel by Newton's law: (k + i w c)(Z_u - Z_s) moves the body, the tyre drives the wheel.
  const spring: Complex = [SPRING, omega * DAMPER];
  const body: Complex = [SPRING - omega ** 2, omega * DAMPER];
  const wheel: Complex = [SPRING + TYRE - WHEEL_MASS * omega ** 2, omega * DAMPER];
  const determinant = subtract(multiply(body, wheel), multiply(spring, spring));
  return (TYRE * size(subtract(spring, body))) / size(determinant);
}

type Complex = readonly [number, number];

function multiply(a: Complex, b: Complex): Complex {
  return [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
}

function subtract(a: Complex, b: Complex): Complex {
  return [a[0] - b[0], a[1] - b[1]];
}

function size([re, im]: Complex): number {
  return Math.hypot(re, im);
}

/** Scaling and squaring of the power series. */
function matrixExponential(matrix: readonly (readonly number[])[]): number[][] {
  const halvings = 8;
  const scaled = matrix.map((row) => row.map((value) => value / 2 ** halvings));
  let term: number[][] = matrix.map((row, i) => row.map((_, j) => (i === j ? 1 : 0)));
  let sum = term;
  for (let k = 1; k <= 20; k++) {
    term = product(term, scaled).map((row) => row.map((value) => value / k));
    sum = sum.map((row, i) => row.map((value, j) => value + term[i][j]));
  }
  for (let i = 0; i < halvings; i++) sum = product(sum, sum);
  return sum;
}

function product(a: readonly (readonly number[])[], b: readonly (readonly number[])[]): number[][] {
  return a.map((row) => b[0].map((_, j) => row.reduce((sum, value, k) => sum + value * b[k][j], 0)));
}
