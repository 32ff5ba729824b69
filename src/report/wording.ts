/** The words of a report: axis names, the verdict in one line. */
import {
  figure,
  figureBeside,
  limitFigure,
  percentBeside,
  type Axis,
  type PredictedOutcome,
  type RunDocument,
  type StabiliseSection,
  type VerdictSection,
} from '../run/index.js';
import { gradeWord } from './charts/index.js';

/** Axis names as they stand in tables, with what they mean in a few words. */
const AXIS_NAMES: Readonly<Record<Axis, { name: string; meaning: string }>> = {
  pan: { name: 'Pan', meaning: 'turns left and right' },
  tilt: { name: 'Tilt', meaning: 'nods up and down' },
  roll: { name: 'Roll', meaning: 'leans about the lens' },
  lateral: { name: 'Lateral', meaning: 'shifts left and right' },
  vertical: { name: 'Vertical', meaning: 'shifts up and down' },
  axial: { name: 'Axial', meaning: 'shifts along the lens' },
};

/**
 * Axis names for one run: where pan could not be told from lateral, nor tilt from vertical, the two angles are
 * equivalents that take translation in, and are called so.
 */
export function axisNames(run: RunDocument): Readonly<Record<Axis, { name: string; meaning: string }>> {
  if (run.motion.separation.unsplit === null) return AXIS_NAMES;
  return {
    ...AXIS_NAMES,
    pan: { name: 'Pan-equivalent', meaning: 'turns left and right, lateral motion taken in' },
    tilt: { name: 'Tilt-equivalent', meaning: 'nods up and down, vertical motion taken in' },
  };
}

/** The ways to stabilise, as they stand in tables. */
export const WAY_WORDS: Readonly<Record<StabiliseSection['mode'], string>> = {
  keepMove: 'Keep the move',
  holdStill: 'Hold still',
  smoothest: 'Smoothest within the crop allowed',
};

/** What stabilising does to this clip, in one line. */
export function wayInWords({ mode, smoothingS }: StabiliseSection): string {
  switch (mode) {
    case 'keepMove':
      return smoothingS === null
        ? 'the move is kept'
        : `the move is kept: what takes longer than ${limitFigure(smoothingS)} s (below ${figure(1 / smoothingS)} Hz) stays`;
    case 'holdStill':
      return 'the picture is held still, as if locked off';
    case 'smoothest':
      return 'the smoothest path that the crop allows';
  }
}

/** The take that is told first; null when none was foretold. */
export function namedTake(stabilise: StabiliseSection): StabiliseSection['longerTake'][number] | null {
  return stabilise.longerTake.find(({ takeS }) => takeS === stabilise.takeS) ?? null;
}

/** The unit of translations as printed. */
export function translationUnit(run: RunDocument): string {
  return run.motion.translational.unit === 'mm' ? 'mm' : '% of subject distance';
}

/** The verdict in one line: the word, and the sentence with measured value and limit. */
export interface Headline {
  readonly word: string;
  readonly sentence: string;
}

const OPENING: Record<VerdictSection['grade'], string> = {
  pass: 'Good for this move',
  marginal: 'Borderline for this move',
  fail: 'Not good enough for this move',
  unmeasurable: 'This clip cannot tell',
};

/** A verdict, and what it was given for. */
export interface Headlined {
  readonly verdict: VerdictSection;
  readonly rig: Pick<RunDocument['rig'], 'focalLengthMm' | 'speedMps'>;
  readonly delivery: Pick<RunDocument['delivery'], 'name' | 'widthPx' | 'heightPx'>;
}

/** What the verdict is for, in a few words. @example deliveryInWords({ name: 'web HD', widthPx: 1920, heightPx: 1080 }) // "web HD, 1920x1080" */
export function deliveryInWords({ name, widthPx, heightPx }: Headlined['delivery']): string {
  return `${name === null ? '' : `${name}, `}${widthPx}x${heightPx}`;
}

/** Makes the one line. Values come from the reasons of the verdict and are never rounded across their limit. */
export function headline(run: Headlined): Headline {
  const { grade, reasons } = run.verdict;
  const word = gradeWord(grade);
  if (grade === 'unmeasurable')
    return { word, sentence: `${OPENING[grade]}. ${reasons[0]?.text ?? ''}`.trim() };
  const setup = [
    run.rig.focalLengthMm === undefined ? null : `${figure(run.rig.focalLengthMm)} mm`,
    run.rig.speedMps === undefined ? null : `${figure(run.rig.speedMps)} m/s`,
  ].filter((part) => part !== null);
  const at = setup.length > 0 ? ` at ${setup.join(' and ')}` : '';
  const parts = reasons.flatMap((reason) => {
    const short = inShort(reason);
    return short === null ? [] : [short];
  });
  return {
    word,
    sentence: `${OPENING[grade]}${at}, for ${deliveryInWords(run.delivery)}: ${parts.join(', ')}.`,
  };
}

function inShort({ code, value, limit, unit }: VerdictSection['reasons'][number]): string | null {
  if (limit === null) return null;
  if (code === 'crop-not-needed') return 'shake too small to be seen';
  // Without a bound in px it is parallax that decided, in times the noise.
  const unknown = value === null || (code === 'residual-below-noise' && unit !== 'px RMS');
  if (unknown)
    return code === 'translation-not-measured' || code === 'residual-below-noise'
      ? 'translation not measured'
      : null;
  const pair = `${figureBeside(value, limit)}`;
  if (code.startsWith('crop-'))
    return `crop ${percentBeside(value, limit)} % of the width (limit ${limitFigure(limit)} %)`;
  if (code.startsWith('readout-'))
    return `rolling-shutter wobble ${pair} px (limit ${limitFigure(limit)} px)`;
  return `${pair} px of shake left (limit ${limitFigure(limit)} px)`;
}

/** What stands before each step of the advice. */
export type AdviceWord = 'Do first' | 'Or' | 'Also';

/**
 * The words before the steps of a verdict, in their order. Steps that crop and shake left were foretold for are alternatives, each
 * reckoned alone; what changes neither comes in addition, and so does all that is said beside a pass.
 */
export function adviceWords({ grade, advice }: Pick<VerdictSection, 'grade' | 'advice'>): AdviceWord[] {
  return advice.map(({ predicted }, place) => {
    if (place === 0) return 'Do first';
    return grade === 'pass' || predicted === null ? 'Also' : 'Or';
  });
}

const OUTCOMES: Record<PredictedOutcome['grade'], string> = {
  pass: 'passes',
  marginal: 'may pass',
  fail: 'still over the limit',
};

/**
 * What a step of the advice would come to, in brief; a figure is never rounded across its limit.
 * @example outcomeInShort(predicted, delivery) // "crop 1.9 %, 0.7 px left: passes"
 */
export function outcomeInShort(
  { cropPercent, coverable, residualPx, grade }: PredictedOutcome,
  { maxCropPercent, maxResidualPx }: Pick<RunDocument['delivery'], 'maxCropPercent' | 'maxResidualPx'>,
): string {
  const crop = coverable
    ? `crop ${percentBeside(cropPercent.value, maxCropPercent)} %`
    : 'crop of more than half of the picture';
  const left = residualPx === null ? '' : `, ${figureBeside(residualPx.value, maxResidualPx)} px left`;
  return `${crop}${left}: ${OUTCOMES[grade]}`;
}
