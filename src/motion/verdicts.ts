/**
 * What may be said about each axis: estimates where the clip can tell translation from rotation, and where it cannot,
 * the combined turn that is always measurable, with bounds for the rest.
 */
import { AXES, sixAxes, type Axis, type SixAxes } from '../run/index.js';
import { unsplitTexts } from '../texts/index.js';
import type { AxisCovariance } from './axis-noise.js';
import type { CodingLoss } from './coding-loss.js';
import { estimateAxis, notObservable, passedShare } from './estimate.js';
import { SPLIT_DEFAULTS } from './options.js';
import { splitCorrelation, type SplitCorrelation } from './separation.js';
import type { AxisEstimate, Observability, Unsplit, UnsplitCause } from './types.js';

/** Vibration with its noise, as the verdicts need it. */
export interface MeasuredVibration {
  readonly vibration: SixAxes;
  readonly noise: AxisCovariance;
  /** What coding may have done to pan with lateral and tilt with vertical; null for clips without predicted frames. */
  readonly loss: { readonly pan: CodingLoss; readonly tilt: CodingLoss } | null;
  readonly rateHz: number;
  readonly cutoffHz: number;
  /** Samples left out at each end. */
  readonly trimFrames: number;
  /** 1 for samples that bridge a gap and count in no statistic; null when there are none. */
  readonly inGap: Uint8Array | null;
}

/** Verdicts of all axes; vibration and noise as they stand after pan and tilt took in what cannot be told from them. */
export interface AxisVerdicts {
  readonly axes: Readonly<Record<Axis, AxisEstimate>>;
  readonly vibration: SixAxes;
  readonly noise: AxisCovariance;
  readonly observable: Observability;
  readonly reason: string | null;
  /** Null for a camera that did not travel: nothing was there to be confused. */
  readonly correlation: SplitCorrelation | null;
  /** What can be said instead where the split does not hold; null where it does. */
  readonly unsplit: Omit<Unsplit, 'change'> | null;
}

/** Positions in the order of AXES. */
const PAN = 0;
const TILT = 1;
const LATERAL = 3;
const VERTICAL = 4;
/** A floor above the limit still serves a motion this many times as large. */
const CLEAR_OF_FLOOR = 3;

/** Drops the samples at both ends and those that bridge a gap. */
export function countedSamples(
  column: Float64Array,
  { trimFrames, inGap }: Pick<MeasuredVibration, 'trimFrames' | 'inGap'>,
): Float64Array {
  const end = column.length - trimFrames;
  return inGap
    ? column.filter((_, t) => t >= trimFrames && t < end && !inGap[t])
    : column.subarray(trimFrames, end);
}

/** Verdicts of a camera that travelled. */
export function travellingVerdicts(
  measured: MeasuredVibration,
  metric: boolean,
  parallaxP: number,
): AxisVerdicts {
  const axes = estimates(measured);
  const refusal = refuseSplit(axes, measured.noise.plain, metric);
  if (refusal) return combinedVerdicts(measured, axes, refusal);
  const { vibration, noise } = measured;
  const correlation = splitCorrelation(noise.plain);
  const split = { axes, vibration, noise, correlation, unsplit: null };
  if (parallaxP >= SPLIT_DEFAULTS.parallaxSure) return { ...split, observable: 'yes', reason: null };
  const reason = unsplitTexts.rough(parallaxP.toFixed(1));
  return { ...split, observable: 'flagged', reason };
}

/**
 * Verdicts of a camera that did not travel.
 *
 * With nothing moving at all, translation has a bound although it cannot be told from rotation: sideways and vertical
 * vibration would have shown as pan and tilt, vibration along the lens as a change of picture scale. At the median
 * depth (the unit) one radian of pan is one unit of lateral motion, so the bounds carry over as they are.
 *
 * @param scale relative change of picture scale per sample, high-passed, with its noise variance
 * @param parallaxP parallax over noise; 0 when no tracks lasted long enough to look for it
 */
export function turningVerdicts(
  measured: MeasuredVibration,
  scale: { readonly vibration: Float64Array; readonly variance: number },
  parallaxP: number,
): AxisVerdicts {
  const { vibration, noise, rateHz, cutoffHz } = measured;
  const axes = estimates(measured);
  const along = estimateAxis(
    countedSamples(scale.vibration, measured),
    { plain: scale.variance, wide: scale.variance },
    rateHz,
    cutoffHz,
  );
  const still = [axes.pan, axes.tilt, axes.roll, along].every((axis) => axis.status === 'below');
  const translation = (turn: AxisEstimate): AxisEstimate => (still ? turn : notObservable(turn, turn.below));
  const cause = parallaxP > 0 ? 'noTravel' : 'shortTracks';
  return {
    axes: {
      ...axes,
      lateral: translation(axes.pan),
      vertical: translation(axes.tilt),
      axial: translation(along),
    },
    vibration,
    noise,
    observable: 'no',
    reason: still ? unsplitTexts.nothingMoves : unsplitTexts[cause],
    correlation: null,
    unsplit: still ? null : oneSided(cause, axes, [1, 1]),
  };
}

function estimates(measured: MeasuredVibration): Record<Axis, AxisEstimate> {
  const { vibration, noise, loss, rateHz, cutoffHz } = measured;
  const share = Math.max(passedShare(rateHz, cutoffHz), 1e-3);
  const of = (axis: Axis, falseRms = 0, relativeError = 0): AxisEstimate => {
    const at = 7 * AXES.indexOf(axis);
    // The floor is stated after the high-pass, the variance before it.
    const variance = { plain: noise.plain[at], wide: noise.wide[at] + falseRms ** 2 / share };
    const estimate = estimateAxis(countedSamples(vibration[axis], measured), variance, rateHz, cutoffHz);
    return widened(estimate, relativeError);
  };
  return {
    pan: of('pan', loss?.pan.turnRad),
    tilt: of('tilt', loss?.tilt.turnRad),
    roll: of('roll'),
    lateral: of('lateral', 0, loss?.pan.translationShare),
    vertical: of('vertical', 0, loss?.tilt.translationShare),
    axial: of('axial'),
  };
}

/** The estimate with its interval and bound moved out by a relative error. */
function widened(estimate: AxisEstimate, relativeError: number): AxisEstimate {
  const { ci95, below } = estimate;
  return {
    ...estimate,
    ci95: ci95 && [ci95[0] * (1 - relativeError), ci95[1] * (1 + relativeError)],
    below: below * (1 + relativeError),
  };
}

/** Why translation cannot be told from rotation in this scene; null when it can. */
function refuseSplit(
  axes: Readonly<Record<Axis, AxisEstimate>>,
  covariance: Float64Array,
  metric: boolean,
): string | null {
  const { panLateral, tiltVertical } = splitCorrelation(covariance);
  const correlation = Math.max(Math.abs(panLateral), Math.abs(tiltVertical));
  if (correlation > SPLIT_DEFAULTS.worstCorrelation) {
    return unsplitTexts.oneDistance(correlation.toFixed(4));
  }
  for (const axis of ['lateral', 'vertical'] as const) {
    const { floor, rms } = axes[axis];
    if (!metric || floor <= SPLIT_DEFAULTS.worstFloorM || (rms ?? 0) > CLEAR_OF_FLOOR * floor) continue;
    return unsplitTexts.floorTooHigh(axis, (floor * 1000).toFixed(2));
  }
  return null;
}

/**
 * The combined verdicts: pan + rho lateral and tilt + rho vertical, with rho the inverse depth that makes the
 * combination surest (the weighted mean of the scene), are measurable however flat the scene; lateral and vertical are
 * bounded by "if all of it were translation".
 */
function combinedVerdicts(
  measured: MeasuredVibration,
  split: Readonly<Record<Axis, AxisEstimate>>,
  reason: string,
): AxisVerdicts {
  const { vibration, noise } = measured;
  const rho = [surestWeight(noise.plain, PAN, LATERAL), surestWeight(noise.plain, TILT, VERTICAL)] as const;
  const mixed = sixAxes((axis) => {
    if (axis === 'pan') return vibration.pan.map((v, t) => v + rho[0] * vibration.lateral[t]);
    if (axis === 'tilt') return vibration.tilt.map((v, t) => v + rho[1] * vibration.vertical[t]);
    return vibration[axis];
  });
  const mixedNoise = {
    plain: combineNoise(noise.plain, rho),
    wide: combineNoise(noise.wide, rho),
  };
  const axes = estimates({ ...measured, vibration: mixed, noise: mixedNoise });
  return {
    axes: {
      ...axes,
      lateral: notObservable(split.lateral, axes.pan.below / rho[0]),
      vertical: notObservable(split.vertical, axes.tilt.below / rho[1]),
      axial: notObservable(split.axial, split.axial.below),
    },
    vibration: mixed,
    noise: mixedNoise,
    observable: 'no',
    reason,
    correlation: splitCorrelation(noise.plain),
    unsplit: oneSided('flatScene', axes, rho),
  };
}

/**
 * The two one-sided bounds of axes that hold equivalents.
 *
 * @param rho inverse depths at which the equivalents of pan and tilt were taken: a turn of rho is a shift of one
 */
function oneSided(
  cause: UnsplitCause,
  { pan, tilt }: Readonly<Record<'pan' | 'tilt', AxisEstimate>>,
  rho: readonly [number, number],
): Omit<Unsplit, 'change'> {
  const most = ({ below, ci95 }: AxisEstimate): number => Math.max(below, ci95?.[1] ?? 0);
  return {
    cause,
    ifAllAngular: { panRad: most(pan), tiltRad: most(tilt) },
    ifAllTranslation: { lateral: most(pan) / rho[0], vertical: most(tilt) / rho[1] },
  };
}

/** The rho that makes turn + rho shift least uncertain. */
function surestWeight(covariance: Float64Array, turn: number, shift: number): number {
  return -covariance[6 * turn + shift] / covariance[7 * shift];
}

/** Covariance after row and column of pan and tilt took in rho times those of lateral and vertical. */
function combineNoise(covariance: Float64Array, rho: readonly number[]): Float64Array {
  const out = covariance.slice();
  const pairs = [
    [PAN, LATERAL, rho[0]],
    [TILT, VERTICAL, rho[1]],
  ] as const;
  for (const [turn, shift, weight] of pairs) {
    for (let k = 0; k < 6; k++) out[6 * turn + k] += weight * out[6 * shift + k];
    for (let k = 0; k < 6; k++) out[6 * k + turn] += weight * out[6 * k + shift];
  }
  return out;
}
