/**
 * Discrete Fourier transforms of any length, forward sign exp(-2 pi i j k / n), forward transform unscaled,
 * inverse scaled by 1/n.
 */
import FFT from 'fft.js';

/** Real and imaginary part of a row of Fourier coefficients, of equal length. */
export interface ComplexColumns {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

const isPowerOfTwo = (n: number): boolean => n >= 2 && Number.isInteger(Math.log2(n));

/** Twiddle tables are kept for the few lengths a run uses; the oldest goes first. */
const plans = new Map<number, FFT>();
const MAX_PLANS = 16;

function planFor(size: number): FFT {
  let plan = plans.get(size);
  if (!plan) {
    plan = new FFT(size);
    const oldest = plans.keys().next().value;
    if (plans.size >= MAX_PLANS && oldest !== undefined) plans.delete(oldest);
    plans.set(size, plan);
  }
  return plan;
}

/** Power-of-two transform of interleaved re, im pairs. */
function transformPowerOfTwo(interleaved: Float64Array, size: number): Float64Array {
  const out = new Float64Array(2 * size);
  planFor(size).transform(out, interleaved);
  return out;
}

/** What Bluestein's method needs of a length: its chirp, and the transform of the kernel made of it. */
interface ChirpPlan {
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Of the convolution. */
  readonly size: number;
  readonly kernel: Float64Array;
}

const chirpPlans = new Map<number, ChirpPlan>();

function chirpPlanFor(n: number): ChirpPlan {
  const known = chirpPlans.get(n);
  if (known) return known;
  const re = new Float64Array(n);
  const im = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    // k^2 modulo 2n keeps the angle small, so that its sine stays exact for long series.
    const angle = (-Math.PI * ((k * k) % (2 * n))) / n;
    re[k] = Math.cos(angle);
    im[k] = Math.sin(angle);
  }
  const size = 2 ** Math.ceil(Math.log2(2 * n - 1));
  const kernel = new Float64Array(2 * size);
  for (let k = 0; k < n; k++) {
    const mirrored = k === 0 ? 0 : size - k;
    for (const at of [k, mirrored]) {
      kernel[2 * at] = re[k];
      kernel[2 * at + 1] = -im[k];
    }
  }
  const plan = { re, im, size, kernel: transformPowerOfTwo(kernel, size) };
  const oldest = chirpPlans.keys().next().value;
  if (chirpPlans.size >= MAX_PLANS && oldest !== undefined) chirpPlans.delete(oldest);
  chirpPlans.set(n, plan);
  return plan;
}

/**
 * Bluestein's method: jk = (j^2 + k^2 - (k-j)^2) / 2 turns a transform of any length into a convolution
 * with a chirp, done by power-of-two transforms.
 */
function transformAnySize(re: Readonly<Float64Array>, im: Readonly<Float64Array>): ComplexColumns {
  const n = re.length;
  const { re: chirpRe, im: chirpIm, size, kernel: b } = chirpPlanFor(n);
  const signal = new Float64Array(2 * size);
  for (let k = 0; k < n; k++) {
    signal[2 * k] = re[k] * chirpRe[k] - im[k] * chirpIm[k];
    signal[2 * k + 1] = re[k] * chirpIm[k] + im[k] * chirpRe[k];
  }
  const a = transformPowerOfTwo(signal, size);
  for (let i = 0; i < 2 * size; i += 2) {
    const productRe = a[i] * b[i] - a[i + 1] * b[i + 1];
    const productIm = a[i] * b[i + 1] + a[i + 1] * b[i];
    // Conjugated, so that the forward transform below acts as the inverse one.
    a[i] = productRe;
    a[i + 1] = -productIm;
  }
  const back = transformPowerOfTwo(a, size);
  const outRe = new Float64Array(n);
  const outIm = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const convolvedRe = back[2 * k] / size;
    const convolvedIm = -back[2 * k + 1] / size;
    outRe[k] = convolvedRe * chirpRe[k] - convolvedIm * chirpIm[k];
    outIm[k] = convolvedRe * chirpIm[k] + convolvedIm * chirpRe[k];
  }
  return { re: outRe, im: outIm };
}

/**
 * Transform of a complex series of any length n >= 1: X_k = sum_j (re_j + i im_j) exp(-2 pi i j k / n).
 *
 * @param re length n
 * @param im length n
 * @returns n coefficients, k = 0 .. n - 1
 * @throws RangeError when the columns are empty or of unequal length
 * @remarks Powers of two by radix 4, other lengths by Bluestein 1970, IEEE Trans. Audio Electroacoust. 18.
 */
export function complexFft(re: Readonly<Float64Array>, im: Readonly<Float64Array>): ComplexColumns {
  const n = re.length;
  if (n < 1 || im.length !== n)
    throw new RangeError(`re and im must have the same length >= 1, got ${n} and ${im.length}`);
  if (n === 1) return { re: new Float64Array(re), im: Float64Array.from(im) };
  if (!isPowerOfTwo(n)) return transformAnySize(re, im);
  const interleaved = new Float64Array(2 * n);
  for (let k = 0; k < n; k++) {
    interleaved[2 * k] = re[k];
    interleaved[2 * k + 1] = im[k];
  }
  const out = transformPowerOfTwo(interleaved, n);
  const result = { re: new Float64Array(n), im: new Float64Array(n) };
  for (let k = 0; k < n; k++) {
    result.re[k] = out[2 * k];
    result.im[k] = out[2 * k + 1];
  }
  return result;
}

/**
 * Transform of a real series, the non-negative half: X_k for k = 0 .. floor(size / 2).
 *
 * @param x length n >= 1
 * @param size transform length, n unless given; a longer one appends zeros, which interpolates the spectrum
 * @returns floor(size / 2) + 1 coefficients
 * @throws RangeError when x is empty or size is no integer >= n
 */
export function realFft(
  x: Readonly<Float64Array>,
  size: number = x.length,
): { re: Float64Array; im: Float64Array } {
  if (x.length < 1) throw new RangeError('x must hold at least one sample, got 0');
  if (!Number.isInteger(size) || size < x.length) {
    throw new RangeError(`size must be a whole number >= ${x.length} (the series), got ${size}`);
  }
  const padded = new Float64Array(size);
  padded.set(x);
  const half = Math.floor(size / 2) + 1;
  if (!isPowerOfTwo(size) || size < 4) {
    const full = complexFft(padded, new Float64Array(size));
    return { re: full.re.slice(0, half), im: full.im.slice(0, half) };
  }
  const out = new Float64Array(2 * size);
  planFor(size).realTransform(out, padded);
  const re = new Float64Array(half);
  const im = new Float64Array(half);
  for (let k = 0; k < half; k++) {
    re[k] = out[2 * k];
    im[k] = out[2 * k + 1];
  }
  return { re, im };
}

/**
 * Inverse of {@link realFft}: the real series of length `size` whose non-negative half spectrum is given.
 *
 * The imaginary parts of bin 0 and, for even sizes, of the Nyquist bin are ignored: a real series has none there.
 *
 * @param re length floor(size / 2) + 1
 * @param im length floor(size / 2) + 1
 * @param size length of the series, >= 1
 * @throws RangeError when a column does not fit the size
 */
export function inverseRealFft(
  re: Readonly<Float64Array>,
  im: Readonly<Float64Array>,
  size: number,
): Float64Array {
  const half = Math.floor(size / 2) + 1;
  if (!Number.isInteger(size) || size < 1)
    throw new RangeError(`size must be a whole number >= 1, got ${size}`);
  if (re.length !== half || im.length !== half) {
    throw new RangeError(`size ${size} needs ${half} bins, got ${re.length} and ${im.length}`);
  }
  // Conjugated full spectrum: its forward transform is size times the series.
  const fullRe = new Float64Array(size);
  const fullIm = new Float64Array(size);
  for (let k = 0; k < half; k++) {
    const mirrored = (size - k) % size;
    fullRe[k] = re[k];
    fullRe[mirrored] = re[k];
    if (mirrored === k) continue;
    fullIm[k] = -im[k];
    fullIm[mirrored] = im[k];
  }
  const series = complexFft(fullRe, fullIm).re;
  for (let i = 0; i < size; i++) series[i] /= size;
  return series;
}
