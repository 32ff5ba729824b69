/**
 * What stabilising would cost (crop, per cent of the width) and leave (px RMS of the delivery) for a motion that is expected, and for
 * the ends of its range; and the grade that this earns.
 */
import type { Camera } from '../../optics/index.js';
import type { Motion } from '../../motion/index.js';
import type { PredictedOutcome, ResolvedDelivery } from '../../run/index.js';
import { frameTimes, wayOf, type Way } from '../../stabilise/index.js';
import type { ChangedMotion } from '../changes/types.js';
import { decide } from '../decide.js';
import { worstGrade } from '../finding.js';
import { outcomeWith, sectionsWithRepeat } from '../what-if/foretold.js';
import { asMeasured, sectionOf, type Setting } from '../what-if/setting.js';
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
 * The outcome of a change, by the arithmetic of every other answer to a question about a pass. Its ranges take in what the prediction
 * leaves open, the measuring error of the pass and, for the crop, a repeat of the move, as those of a verdict on a measured pass do;
 * they decide the grade.
 *
 * @param changed the pass's own motion in all places stands for "no change"
 * @throws RangeError when the smoothing does not fit the motion
 */
export function outcomeOf(
  pass: MeasuredPass,
  changed: Omit<ChangedMotion, 'assumes'>,
  settings: OutcomeSettings = {},
): PredictedOutcome {
  const setting = settingOf(pass, changed, settings);
  const { motion, stabilise } = sectionsWithRepeat(setting);
  return outcomeWith(motion, stabilise, worstGrade(decide(motion, stabilise, setting.delivery)));
}

function settingOf(
  pass: MeasuredPass,
  changed: Omit<ChangedMotion, 'assumes'>,
  { camera, delivery = pass.delivery, choice, shutterAngleDeg }: OutcomeSettings,
): Setting {
  const now = asMeasured(pass);
  const same = changed.expected === pass.motion;
  return {
    ...now,
    moved: { ...now.moved, ...changed },
    motion: same ? now.motion : sectionOf(pass, changed),
    camera: camera ?? changed.expected.camera,
    rig: shutterAngleDeg === undefined ? pass.rig : { ...pass.rig, shutterAngleDeg },
    delivery,
    choice: { ...pass.choice, ...choice },
  };
}
