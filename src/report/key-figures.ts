/** The figures of a run that are read at a glance, in words: crop, shake left, angular share, worst angular axis, surface. */
import {
  boundBeside,
  figure,
  figureBeside,
  limitFigure,
  percentBeside,
  toldShare,
  type RunDocument,
} from '../run/index.js';
import { classInWords, firstScreenTexts, runViewTexts } from '../texts/index.js';
import { withRange } from './format.js';
import { turnsMost } from './shakes-most.js';
import { axisNames } from './wording.js';

/** A figure that is read at a glance. */
export interface KeyFigure {
  readonly name: string;
  readonly value: string;
  readonly unit: string;
  readonly remark: string;
}

/** Hundredths of a per cent are the last that mean anything. */
const LEAST_CROP_PERCENT = 0.01;

/** Crop, angular share, worst angular axis and surface, in this order. */
export function keyFigures(run: RunDocument): KeyFigure[] {
  const { stabilise, motion, surface, delivery } = run;
  const crop: KeyFigure = {
    name: firstScreenTexts.crop,
    value: percentBeside(stabilise.cropPercent, delivery.maxCropPercent),
    unit: '%',
    remark: firstScreenTexts.cropRemark(cropRange(run), limitFigure(delivery.maxCropPercent)),
  };
  return [crop, angularShare(motion), worstAxis(run), surfaceFigure(surface)];
}

function angularShare(motion: RunDocument['motion']): KeyFigure {
  const { angularShare: name, angularRemark, shareRange } = firstScreenTexts;
  const told = toldShare(motion);
  if (told.as === 'unknown')
    return none(
      name,
      motion.angularShare.value === null ? firstScreenTexts.notObservable : firstScreenTexts.shareNotKnown,
    );
  const ends = told.ci95 && ([figure(100 * told.ci95[0]), figure(100 * told.ci95[1])] as const);
  return told.as === 'figure'
    ? { name, value: figure(100 * told.share), unit: '%', remark: angularRemark(ends) }
    : { name, value: ends === null ? '' : shareRange(...ends), unit: '%', remark: angularRemark(null) };
}

/** The range of the crop that the verdict went by, per cent as printed; null where it was not asked for, or is no wider than its digits. */
function cropRange({ verdict, delivery }: RunDocument): [string, string] | null {
  const limit = delivery.maxCropPercent;
  const range = verdict.reasons.find(({ code, unit }) => code.startsWith('crop-') && unit === '%')?.ci95;
  if (!range) return null;
  const [low, high] = [percentBeside(range[0], limit), boundBeside(range[1], limit)];
  return low === high || range[1] < LEAST_CROP_PERCENT ? null : [low, high];
}

function none(name: string, remark: string): KeyFigure {
  return { name, value: firstScreenTexts.nothing, unit: '', remark };
}

function worstAxis(run: RunDocument): KeyFigure {
  const worst = turnsMost(run);
  const rmsDeg = worst && run.motion.angular[worst].rmsDeg;
  if (worst === null || rmsDeg === null) return none(firstScreenTexts.worstAxis, firstScreenTexts.noAxis);
  const { value, range } = withRange(rmsDeg, run.motion.angular[worst].ci95Deg);
  const { name, meaning } = axisNames(run)[worst];
  return {
    name: firstScreenTexts.worstAxisOf(name),
    value: `${value}°`,
    unit: firstScreenTexts.rms,
    remark: firstScreenTexts.axisRemark(range, meaning),
  };
}

function surfaceFigure(surface: RunDocument['surface']): KeyFigure {
  const { isoClass, isoClassAsRolled, spoken, bumps, reason } = surface;
  if (!surface.observable || isoClass === null)
    return none(firstScreenTexts.surface, reason === null ? firstScreenTexts.notGraded : asked(reason));
  return {
    name: firstScreenTexts.surface,
    // As rolled: that is what the word is for, and what shakes.
    value: isoClassAsRolled ?? isoClass,
    unit: spoken === null ? '' : spoken.word,
    remark: firstScreenTexts.surfaceRemark(classInWords(surface) ?? isoClass, bumps.length),
  };
}

/**
 * What to give or do, without why: refusals of a floor say the one before a colon and the other after it, and the section on the floor has
 * them whole.
 * @example asked('Give the speed: without it nothing can be said. Give the wheelbase: as well.') // "Give the speed. Give the wheelbase."
 */
export function asked(reason: string): string {
  return reason
    .split(/(?<=\.)\s+/)
    .map((sentence) => sentence.replace(/:.*$/s, '.'))
    .join(' ');
}

/** The shake that stabilising leaves, with the range and limit that the verdict went by. */
export function shakeLeftFigure({ stabilise, verdict, delivery }: RunDocument): KeyFigure {
  const { rmsPx, parallaxPx } = stabilise.residual;
  const value = rmsPx ?? parallaxPx;
  if (value === null) return none(runViewTexts.shakeLeft, runViewTexts.shakeLeftUnknown);
  const limit = delivery.maxResidualPx;
  const range = verdict.reasons.find(
    ({ code, unit }) => code.startsWith('residual-') && unit === 'px RMS',
  )?.ci95;
  return {
    name: runViewTexts.shakeLeft,
    value: figureBeside(value, limit),
    unit: runViewTexts.pxRms,
    remark: runViewTexts.shakeLeftRemark(
      range ? [figureBeside(range[0], limit), boundBeside(range[1], limit)] : null,
      limitFigure(limit),
    ),
  };
}
