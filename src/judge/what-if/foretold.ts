/**
 * Crop (per cent of the width), shake left (px RMS of the delivery) and grade under one set of conditions, without the whole plan of
 * its stabilisation: what a row of a table needs.
 */
import type { MotionSection, PredictedOutcome, Ranged, StabiliseSection } from '../../run/index.js';
import { bareWayOf, frameTimes, stretchAgain, type BareWay } from '../../stabilise/index.js';
import { cropRange } from '../crop.js';
import { decide } from '../decide.js';
import { jointFactor } from '../relative-range.js';
import { worstGrade, type Grade } from '../finding.js';
import { residualRange, residualRmsPx } from '../residual.js';
import { widened } from './widened-motion.js';
import { isMeasuredMotion, type Setting } from './setting.js';

/** What is foretold, with the ends of what the prediction alone leaves open. */
export interface Foretold {
  readonly cropPercent: Ranged;
  /** Crop of the motion that needs most of those that the pass does not tell apart, over that of the expected one; at least 1. */
  readonly otherwiseGrowth: number;
  /** The part of the shake left that comes from translation. */
  readonly translationPx: Ranged | null;
  /** The way of the motion that is expected. */
  readonly way: BareWay;
}

/**
 * Stabilises the motion that is expected, those at the ends of its range, and those that it may be otherwise. The range is that of any
 * of them: the ends of the expected one stand for theirs, in proportion.
 * @throws RangeError when the smoothing does not fit the frame rate of the motion
 */
export function foretell(setting: Setting, known?: BareWay): Foretold {
  const { expected, least, most, otherwise, factor95 } = setting.moved;
  const way = known ?? wayFor(setting, expected);
  const found = (motion: typeof expected): BareWay => (motion === expected ? way : wayFor(setting, motion));
  const ends = [way, found(least), found(most)];
  const others = [way, ...otherwise.map(found)];
  const range = (figureOf: (of: BareWay) => number): Ranged =>
    anyOf(ranged(ends.map(figureOf)), others.map(figureOf), factor95);
  const crop = ({ crop: { cropPercent } }: BareWay): number => cropPercent;
  const translationPx = ({ residual }: BareWay): number | null => residual.causes.translation?.rmsPx ?? null;
  return {
    way,
    cropPercent: range(crop),
    otherwiseGrowth: crop(way) > 0 ? Math.max(...others.map(crop)) / crop(way) : 1,
    translationPx: translationPx(way) === null ? null : range((of) => translationPx(of) ?? 0),
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
    stabilise: repeatOfAny({ ...roughSection(setting, foretold.way), again }, foretold),
  };
}

/** The section with the repeat of whichever motion needs most: of none is it known that the pass will not be like it. */
export function repeatOfAny(
  stabilise: StabiliseSection,
  { otherwiseGrowth }: Pick<Foretold, 'otherwiseGrowth'>,
): StabiliseSection {
  const { again } = stabilise;
  const upper95Percent = Math.min(100, otherwiseGrowth * again.upper95Percent);
  return { ...stabilise, again: { ...again, upper95Percent } };
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

/** The range of a figure that may as well start from any of several values: its ends go with each of them in proportion. */
function anyOf({ value, low, high }: Ranged, others: readonly number[], factor95: number): Ranged {
  const [least, most] = [Math.min(...others), Math.max(...others)];
  if (!(value > 0)) return { value, low: Math.min(low, least), high: Math.max(high, most * factor95) };
  const joint = (grown: number): number => jointFactor(grown, factor95);
  return { value, low: low > 0 ? least / joint(value / low) : 0, high: most * joint(high / value) };
}

function factors({ value, low, high }: Ranged): readonly [number, number] {
  return value > 0 ? [low / value, high / value] : [1, 1];
}
