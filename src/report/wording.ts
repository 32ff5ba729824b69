/** The words of a report: axis names, the verdict in one line, what a step of the advice comes to. */
import {
  boundBeside,
  figure,
  figureBeside,
  figureNear,
  isEndless,
  limitFigure,
  percentBeside,
  percentNear,
  type Axis,
  type PredictedOutcome,
  type RunDocument,
  type StabiliseSection,
  type VerdictSection,
} from '../run/index.js';
import { verdictTexts, type AxisWords } from '../texts/index.js';
import { gradeWord } from './charts/index.js';

/**
 * Axis names for one run: where pan could not be told from lateral, nor tilt from vertical, the two angles are
 * equivalents that take translation in, and are called so.
 */
export function axisNames(run: RunDocument): Readonly<Record<Axis, AxisWords>> {
  return run.motion.separation.unsplit === null ? verdictTexts.axes : verdictTexts.axesUnsplit;
}

/** The ways to stabilise, as they stand in tables. */
export const WAY_WORDS = verdictTexts.ways;

/** What stabilising does to this clip, in one line. */
export function wayInWords({ mode, smoothingS }: StabiliseSection): string {
  switch (mode) {
    case 'keepMove':
      return smoothingS === null
        ? verdictTexts.moveKept
        : verdictTexts.moveKeptBelow(limitFigure(smoothingS), figure(1 / smoothingS));
    case 'holdStill':
      return verdictTexts.heldStill;
    case 'smoothest':
      return verdictTexts.smoothestPath;
  }
}

/** The take that is told first; null when none was foretold. */
export function namedTake(stabilise: StabiliseSection): StabiliseSection['longerTake'][number] | null {
  return stabilise.longerTake.find(({ takeS }) => takeS === stabilise.takeS) ?? null;
}

/** The unit of translations as printed. */
export function translationUnit(run: RunDocument): string {
  return run.motion.translational.unit === 'mm' ? 'mm' : verdictTexts.ofSubjectDistance;
}

/** The verdict in one line: the word, and the sentence with measured value and limit. */
export interface Headline {
  readonly word: string;
  readonly sentence: string;
}

/** A verdict, and what it was given for. */
export interface Headlined {
  readonly verdict: VerdictSection;
  readonly rig: Pick<RunDocument['rig'], 'focalLengthMm' | 'speedMps'>;
  readonly delivery: Pick<RunDocument['delivery'], 'name' | 'widthPx' | 'heightPx'>;
}

/** What the verdict is for, in a few words. @example deliveryInWords({ name: 'web HD', widthPx: 1920, heightPx: 1080 }) // "web HD, 1920x1080" */
export function deliveryInWords({ name, widthPx, heightPx }: Headlined['delivery']): string {
  return verdictTexts.delivery(name, widthPx, heightPx);
}

/** Makes the one line. Values come from the reasons of the verdict and are never rounded across their limit. */
export function headline({ verdict, rig, delivery }: Headlined): Headline {
  const { grade, reasons } = verdict;
  const word = gradeWord(grade);
  if (grade === 'unmeasurable') return { word, sentence: verdictTexts.cannotTell(reasons[0]?.text ?? '') };
  const printed = (value: number | undefined): string | null => (value === undefined ? null : figure(value));
  const figures = reasons.map(inShort).filter((short) => short !== null);
  const at = { lensMm: printed(rig.focalLengthMm), speedMps: printed(rig.speedMps) };
  return { word, sentence: verdictTexts.sentence(grade, at, deliveryInWords(delivery), figures) };
}

function inShort({ code, value, limit, unit, ci95 }: VerdictSection['reasons'][number]): string | null {
  if (limit === null) return null;
  if (code === 'crop-not-needed') return verdictTexts.notSeen;
  // Without a bound in px it is parallax that decided, in times the noise.
  const unknown = value === null || (code === 'residual-below-noise' && unit !== 'px RMS');
  if (unknown)
    return code === 'translation-not-measured' || code === 'residual-below-noise'
      ? verdictTexts.translationNotMeasured
      : null;
  const most = limitFigure(limit);
  if (code.startsWith('crop-'))
    return verdictTexts.crop(
      inFewDigits(percentBeside(value, limit), value, limit),
      most,
      reach(value, limit, ci95, '%'),
    );
  const beyond = reach(value, limit, ci95, 'px');
  const px = inFewDigits(figureBeside(value, limit), value, limit);
  return code.startsWith('readout-')
    ? verdictTexts.wobble(px, most, beyond)
    : verdictTexts.left(px, most, beyond);
}

/** The end of the range beyond the limit, where value and range do not lie on one side of it; the upper end of a crop is that of a repeat. */
function reach(
  value: number,
  limit: number,
  ci95: readonly [number, number] | null,
  unit: '%' | 'px',
): string {
  if (ci95 === null) return '';
  const [low, high] = ci95;
  if (value <= limit && high > limit) {
    const most = inFewDigits(boundBeside(high, limit), high, limit);
    return unit === '%' ? verdictTexts.repeatUpTo(most) : verdictTexts.mayReach(most, unit);
  }
  if (value > limit && low <= limit)
    return verdictTexts.mayBeDownTo(inFewDigits(figureBeside(low, limit), low, limit), unit);
  return '';
}

/** A figure beside its limit that took many digits to stay on its side is told by that side: "1.302" stays, "1.30004" is "just over 1.3". */
function inFewDigits(text: string, value: number, limit: number): string {
  if (!isEndless(text, value, limit)) return text;
  return (value > limit ? verdictTexts.justOver : verdictTexts.justUnder)(limitFigure(limit));
}

/** What stands before each step of the advice. */
export type AdviceWord = (typeof verdictTexts.adviceWords)[keyof typeof verdictTexts.adviceWords];

/**
 * The words before the steps of a verdict, in their order. Steps that crop and shake left were foretold for are alternatives, each
 * reckoned alone; what changes neither comes in addition, and so does all that is said beside a pass.
 */
export function adviceWords({ grade, advice }: Pick<VerdictSection, 'grade' | 'advice'>): AdviceWord[] {
  const { first, or, also } = verdictTexts.adviceWords;
  return advice.map(({ predicted }, place) => {
    if (place === 0) return first;
    return grade === 'pass' || predicted === null ? also : or;
  });
}

/**
 * What a step of the advice would come to, in brief; a figure is never rounded across its limit.
 * @example outcomeInShort(predicted, delivery) // "crop 1.9 %, 0.7 px left: passes"
 */
export function outcomeInShort(
  { cropPercent, coverable, residualPx, grade }: PredictedOutcome,
  { maxCropPercent, maxResidualPx }: Pick<RunDocument['delivery'], 'maxCropPercent' | 'maxResidualPx'>,
): string {
  const crop = coverable
    ? verdictTexts.outcomeCrop(percentNear(cropPercent.value, maxCropPercent))
    : verdictTexts.outcomeNotCoverable;
  const left = residualPx === null ? null : figureNear(residualPx.value, maxResidualPx);
  return verdictTexts.outcome(crop, left, grade);
}

/** The first sentence of a text. @example firstSentence('Crop falls to 0.6 %. Taken for granted: the shims hold.') // "Crop falls to 0.6 %." */
export function firstSentence(text: string): string {
  return /^.*?[.!?](?=\s|$)/.exec(text)?.[0] ?? text;
}
