/** Half-overlapping windowed segments of a series and their transforms: what Welch's spectrum and cross-spectrum average. */
import { mean, realFft, type ComplexColumns } from '../../numerics/index.js';
import { windowSamples, type WindowName } from './windows.js';

/** How a series is cut. */
export interface SegmentPlan {
  readonly segmentSamples: number;
  readonly window: WindowName;
  /** Take the mean off each segment. */
  readonly removeMean: boolean;
}

/** The transforms of all segments of a series, and what scales them. */
export interface SegmentTransforms {
  /** One for each segment, floor(segmentSamples / 2) + 1 bins from 0 Hz to Nyquist, unscaled. */
  readonly transforms: readonly ComplexColumns[];
  readonly window: Float64Array;
  /** (Unit)^2 / Hz of one unscaled product of transforms, bin by bin: one-sided, so all bins but 0 Hz and Nyquist are doubled. */
  readonly density: Float64Array;
}

/** The series minus its mean, or a copy of it. */
export function centred(x: Readonly<Float64Array>, removeMean: boolean): Float64Array {
  const centre = removeMean ? mean(x) : 0;
  return Float64Array.from(x, (v) => v - centre);
}

/**
 * Transforms of the segments, neighbours sharing half of their samples (the smaller half when the length is odd). Samples
 * at the end that fill no segment are not used.
 *
 * @param x no gaps, not changed
 * @param rateHz samples per second
 * @throws RangeError unless 2 <= segmentSamples <= x.length and the rate is positive
 * @remarks Scaling by the window's energy: Heinzel, Ruediger, Schilling 2002.
 */
export function segmentTransforms(
  x: Readonly<Float64Array>,
  rateHz: number,
  { segmentSamples: length, window: name, removeMean }: SegmentPlan,
): SegmentTransforms {
  if (!(rateHz > 0 && Number.isFinite(rateHz)))
    throw new RangeError(`rateHz must be positive, got ${rateHz}`);
  if (!Number.isInteger(length) || length < 2 || length > x.length)
    throw new RangeError(`segmentSamples must be a whole number in 2..${x.length}, got ${length}`);
  const window = windowSamples(name, length);
  const step = length - Math.floor(length / 2);
  const transforms = Array.from({ length: Math.floor((x.length - length) / step) + 1 }, (_, s) => {
    const segment = centred(x.subarray(s * step, s * step + length), removeMean);
    for (let i = 0; i < length; i++) segment[i] *= window[i];
    return realFft(segment);
  });
  const energy = window.reduce((sum, w) => sum + w * w, 0);
  const density = Float64Array.from(transforms[0].re, (_, b) => {
    const doubled = b > 0 && 2 * b !== length;
    return (doubled ? 2 : 1) / (rateHz * energy);
  });
  return { transforms, window, density };
}
