/**
 * What stabilising would cost (crop, per cent of the width) and leave (px RMS of the delivery) for a motion that is expected, and for
 * the ends of its range; and the grade that this earns.
 */
import type { Camera } from '../../optics/index.js';
import type { Motion } from '../../motion/index.js';
import type { PredictedOutcome, Ranged, ResolvedDelivery } from '../../run/index.js';
import { frameTimes, wayOf, type Way } from '../../stabilise/index.js';
import type { ChangedMotion } from '../changes/types.js';
import { cropRange } from '../crop.js';
import { jointFactor } from '../relative-range.js';
import { residualRange, residualRmsPx } from '../residual.js';
import { gradeFigures } from './grade-figures.js';
import type { MeasuredPass, StabiliseChoice } from './measured-pass.js';

/** What is different besides the motion; as in the pass unless given. */
export interface OutcomeSettings {
  readonly camera?: Camera;
  readonly delivery?: ResolvedDelivery;
  readonly choice?: Partial<StabiliseChoice>;
  readonly shutterAngleDeg?: number;
}

/** The figures of one way of stabilising one motion. */
export interface WayFigures {
  readonly way: Way;
  readonly cropPercent: number;
  readonly residualPx: number | null;
}

/** One motion under the settings. Sharpness that pulses is looked for only where a shutter is asked for: it takes longer than the rest. */
export function figuresOf(pass: MeasuredPass, motion: Motion, settings: OutcomeSettings = {}): WayFigures {
  const { camera = motion.camera, delivery = pass.delivery, choice = {}, shutterAngleDeg } = settings;
  const { mode, smoothingS } = { ...pass.choice, ...choice };
  const { readoutS, exposureS } = frameTimes(motion, { ...pass.rig, shutterAngleDeg });
  const times = { readoutS, exposureS: shutterAngleDeg === undefined ? null : exposureS };
  const way = wayOf({ motion, camera, delivery, times }, { mode, smoothingS: smoothingS ?? undefined });
  return { way, cropPercent: way.crop.cropPercent, residualPx: way.residual.total?.rmsPx ?? null };
}

/**
 * The outcome of a change. Its ranges take in what the prediction leaves open, the measuring error of the pass and, for the crop, a
 * repeat of the move, as those of a verdict on a measured pass do; they decide the grade.
 *
 * @param changed the pass's own motion in all three places stands for "no change"
 * @throws RangeError when the smoothing does not fit the motion
 */
export function outcomeOf(
  pass: MeasuredPass,
  changed: Pick<ChangedMotion, 'expected' | 'least' | 'most'>,
  settings: OutcomeSettings = {},
): PredictedOutcome {
  const { delivery = pass.delivery } = settings;
  const expected = figuresOf(pass, changed.expected, settings);
  const ends = [changed.least, changed.most].map((motion) =>
    motion === changed.expected ? expected : figuresOf(pass, motion, settings),
  );
  const cropPercent = widened(
    ranged(
      expected.cropPercent,
      ends.map((end) => end.cropPercent),
    ),
    cropFactors(pass, expected.way),
  );
  const left = ends.map((end) => end.residualPx);
  const residualPx =
    expected.residualPx === null
      ? null
      : widened(
          ranged(
            expected.residualPx,
            left.filter((px) => px !== null),
          ),
          residualFactors(pass),
        );
  return {
    cropPercent,
    coverable: expected.way.crop.coverable,
    residualPx,
    grade: gradeFigures(cropPercent, residualPx, delivery),
  };
}

/** [least, most] as factors of the figure. */
type Factors = readonly [number, number];

/** What measuring error and a repeat of the move leave open of a crop. */
function cropFactors({ sections: { motion, stabilise } }: MeasuredPass, { mode }: Way): Factors {
  return factorsOf(cropRange(motion, { ...stabilise, mode }));
}

/** What measuring error leaves open of the shake left. */
function residualFactors({ sections: { motion, stabilise } }: MeasuredPass): Factors {
  const value = residualRmsPx(stabilise);
  return value === null ? [1, 1] : factorsOf(residualRange(motion, stabilise, value));
}

function factorsOf({ value, low, high }: Ranged): Factors {
  return value > 0 ? [low / value, high / value] : [1, 1];
}

/** A range with one more cause of doubt, each side for itself. */
function widened({ value, low, high }: Ranged, [least, most]: Factors): Ranged {
  if (!(low > 0 && least > 0)) return { value, low: 0, high: high * most };
  return {
    value,
    low: value / jointFactor(value / low, 1 / least),
    high: value * jointFactor(high / value, most),
  };
}

function ranged(value: number, ends: readonly number[]): Ranged {
  return { value, low: Math.min(value, ...ends), high: Math.max(value, ...ends) };
}
