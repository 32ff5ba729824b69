/** Mathematics that knows no footage: transforms, solves, smoothing, statistics, distributions, random numbers. */
export * from './random.js';
export * from './statistics.js';
export * from './fft.js';
export * from './tapers.js';
export * from './smoother.js';
export * from './resample.js';
export * from './gamma.js';
export * from './normal.js';
export * from './dense.js';
export * from './symmetric-eigen.js';
export * from './dense-large.js';
export * from './small-inverse.js';
export * from './conjugate-gradients.js';
export * from './sparse-rows.js';
export * from './least-absolute.js';
export { EnvelopeFactor, factorLessOuter } from './envelope/envelope-factor.js';
export { envelopeRows, type EnvelopeRows, type OuterGroups } from './envelope/rows.js';
export { hasSimd } from './envelope/simd-loops.js';
