/**
 * Crop (per cent of the width), shake left (px RMS of the delivery) and grade under one set of conditions, without the whole plan of
 * its stabilisation: what a row of a table needs.
 */
import type { MotionSection, PredictedOutcome, Ranged, StabiliseSection } from '../../run/index.js';
import { bareWayOf, frameTimes, stretchAgain, type BareWay } from '../../stabilise/index.js';
import { cropRange } from '../crop.js';
import { decide } from '../decide.js';
import { worstGrade, type Grade } from '../finding.js';
import { residualRange, residualRmsPx } from '../residual.js';
import { widened } from './widened-motion.js';
import { isMeasuredMotion, type Setting } from './setting.js';

/** What is foretold, with the ends of what the prediction alone leaves open. */
export interface Foretold {
  readonly cropPercent: Ranged;
  /** The part of the shake left that comes from translation. */
  readonly translationPx: Ranged | null;
  /** The way of the motion that is expected. */
  readonly way: BareWay;
}

/**
 * Stabilises the motion that is expected, and those at the ends of its range.
 * @throws RangeError when the smoothing does not fit the frame rate of the motion
 */
export function foretell(setting: Setting, known?: BareWay): Foretold {
  const { expected, least, most } = setting.moved;
  const way = known ?? wayFor(setting, expected);
  const ways = [way, ...[least, most].map((motion) => (motion === expected ? way : wayFor(setting, motion)))];
  return {
    way,
    cropPercent: ranged(ways.map(({ crop }) => crop.cropPercent)),
    translationPx: rangedIfKnown(ways.map(({ residual }) => residual.causes.translation?.rmsPx ?? null)),
  };
}

/**
 * A row of a table: the figures with the ranges that decide, and the grade that the judge gives for them.
 *
 * @param again what a repeat of the move needs, in the plan that the row stands beside
 */
export function outcomeFor(setting: Setting, again: StabiliseSection['again']): PredictedOutcome {
  const { motion, stabilise } = sectionsFor(setting, foretell(setting), again);
  return outcomeWith(motion, stabilise, worstGrade(decide(motion, stabilise, setting.delivery)));
}

/** The two sections that a grade is made from, for what is foretold. */
export function sectionsFor(
  setting: Setting,
  foretold: Foretold,
  again: StabiliseSection['again'],
): { readonly motion: MotionSection; readonly stabilise: StabiliseSection } {
  return {
    motion: motionFor(setting, foretold),
    stabilise: { ...roughSection(setting, foretold.way), again },
  };
}

/** The two sections where no plan of the setting says what a repeat of its move needs. @throws RangeError as `foretell` */
export function sectionsWithRepeat(
  setting: Setting,
  foretold: Foretold = foretell(setting),
): ReturnType<typeof sectionsFor> {
  const { crop } = keptWay(setting, foretold.way);
  return sectionsFor(setting, foretold, { ...stretchAgain(1 - crop.leastShare), longer: [] });
}

/** A repeat of a pass that stands still is foretold from where the move is kept; the smoothest path of a repeat fits its crop. */
function keptWay(setting: Setting, way: BareWay): BareWay {
  return way.mode === 'holdStill' ? wayFor(keepingMove(setting), setting.moved.expected) : way;
}

/** The setting with the move kept. @param smoothingS as the setting has it unless given */
export function keepingMove(setting: Setting, smoothingS = setting.choice.smoothingS): Setting {
  return { ...setting, choice: { ...setting.choice, mode: 'keepMove', smoothingS } };
}

/** The figures of two sections with the ranges that decide on them, and a grade. */
export function outcomeWith(
  motion: MotionSection,
  stabilise: StabiliseSection,
  grade: Grade,
): PredictedOutcome {
  return {
    cropPercent: cropRange(motion, stabilise),
    coverable: stabilise.coverable,
    residualPx: leftRange(motion, stabilise),
    grade: grade === 'unmeasurable' ? 'marginal' : grade,
  };
}

/** The range that decides on the shake left, as `residualFinding` takes it; a bound goes down to nothing. */
function leftRange(motion: MotionSection, stabilise: StabiliseSection): Ranged | null {
  const value = residualRmsPx(stabilise);
  if (value === null) return null;
  return motion.translational.observable === 'no'
    ? { value, low: 0, high: value }
    : residualRange(motion, stabilise, value);
}

/** The motion section that a verdict on the foretold pass is made from: its intervals take in what the prediction leaves open. */
export function motionFor(setting: Setting, { cropPercent, translationPx }: Foretold): MotionSection {
  if (isMeasuredMotion(setting)) return setting.motion;
  return widened(setting.motion, setting.pass.sections.motion, {
    angular: factors(cropPercent),
    translational: translationPx === null ? [1, 1] : factors(translationPx),
  });
}

/** One way of one motion under the setting. @throws RangeError when the smoothing does not fit the frame rate of the motion */
export function wayFor(
  { camera, delivery, rig, choice }: Setting,
  motion: Setting['moved']['expected'],
): BareWay {
  // Pulsing sharpness is no part of what is left, and takes longer to find than all the rest.
  const times = { ...frameTimes(motion, rig), exposureS: null };
  return bareWayOf(
    { motion, camera, delivery, times },
    { mode: choice.mode, smoothingS: choice.smoothingS ?? undefined },
  );
}

/** The section of the measured pass with everything that a grade depends on put in its place. */
function roughSection({ pass, delivery }: Setting, way: BareWay): StabiliseSection {
  const { crop, residual, mode, smoothingS } = way;
  const { stabilise } = pass.sections;
  return {
    ...stabilise,
    mode,
    smoothingS,
    rowsCorrected: way.corrections.rows !== null,
    zoom: crop.zoom,
    cropPercent: crop.cropPercent,
    cropPx: (delivery.widthPx * crop.cropPercent) / 100,
    coverable: crop.coverable,
    residual: {
      ...stabilise.residual,
      rmsPx: residual.total?.rmsPx ?? null,
      p95Px: residual.total?.p95Px ?? null,
      parallaxPx: residual.causes.parallax?.rmsPx ?? null,
      blurPx: residual.causes.blur?.pulsePx ?? null,
      readoutPx: residual.causes.readoutWholeFrames?.rmsPx ?? null,
      atMost: residual.status === 'atMost',
      total: residual.total,
      causes: { ...residual.causes },
    },
  };
}

/** @param values what is expected first, then the ends */
function ranged(values: readonly number[]): Ranged {
  return { value: values[0], low: Math.min(...values), high: Math.max(...values) };
}

function rangedIfKnown(values: readonly (number | null)[]): Ranged | null {
  return values[0] === null ? null : ranged(values.filter((value) => value !== null));
}

function factors({ value, low, high }: Ranged): readonly [number, number] {
  return value > 0 ? [low / value, high / value] : [1, 1];
}
