/** Words of the first screen of the report: key figures, what to do first, what a verdict does not cover, the frame and its slider. */
import type { PredictedOutcome, RunDocument } from '../../run/index.js';
import { aLens } from './words.js';

type UnsplitCause = NonNullable<RunDocument['motion']['separation']['unsplit']>['cause'];

const WHY_BLIND: Readonly<Record<UnsplitCause, string>> = {
  noTravel: 'the camera did not travel in this clip',
  flatScene: 'everything in the picture lies at nearly one distance',
  shortTracks: 'nothing stays in sight long enough to show how far away it is',
};

/** Which of the two limits a setting of the slider comes near to or goes over. */
export type LimitHit = 'crop' | 'left' | 'both';

const LIMITS: Readonly<Record<LimitHit, string>> = {
  crop: 'the crop limit',
  left: 'the limit for shake left',
  both: 'both limits',
};

/** @param hit null where both limits hold */
function stands(grade: PredictedOutcome['grade'], hit: LimitHit | null, leftKnown: boolean): string {
  if (grade === 'pass' || hit === null) return leftKnown ? 'within the limits' : 'within the crop limit';
  return grade === 'fail' ? `over ${LIMITS[hit]}` : `too near ${LIMITS[hit]} to be sure`;
}

/** Words of the first screen. */
export const firstScreenTexts = {
  doFirst: 'Do first',
  doMore: 'Or, and also',
  stepsAlone:
    'Each step is reckoned alone. First what passes, then what may, the one that helps most first; of two that do about the same, the easier.',
  /** A step and what it comes to. */
  step: (text: string, outcome: string): string => `${text} (${outcome})`,
  firstOutcome: (outcome: string): string => `Then ${outcome}.`,
  shakesMost: (source: string): string => `Shakes most: ${source}.`,
  inDoubt: 'In doubt',
  mind: 'Mind',
  /** Where a step passes, and a longer take is minded. */
  passesLikeTest: 'Passes: for a take like the test; a longer one may need more crop.',
  notCovered: 'Not covered',
  translationNotCovered: (cause: UnsplitCause | null): string =>
    `translation (shake that shifts the camera sideways, up or along): ${cause === null ? 'this clip cannot show it' : WHY_BLIND[cause]}.`,

  nothing: '–',
  crop: 'Crop',
  cropRemark: (range: readonly [string, string] | null, limit: string): string =>
    `${range === null ? 'of the frame width' : `${range[0]} to ${range[1]} % of the width`}, limit ${limit} %`,
  angularShare: 'Angular share',
  angularRemark: (range: readonly [string, string] | null): string =>
    `${range === null ? '' : `${range[0]} to ${range[1]} %; `}stabilising removes this part`,
  notObservable: 'not observable',
  shareNotKnown: 'not known: no angular shake above the noise floor',
  shareRange: (low: string, high: string): string => `${low} to ${high}`,
  worstAxis: 'Worst axis',
  worstAxisOf: (name: string): string => `Worst axis: ${name.toLowerCase()}`,
  rms: 'RMS',
  axisRemark: (range: string, meaning: string): string => (range === '' ? meaning : `${range}°; ${meaning}`),
  noAxis: 'no angular shake above the noise floor',
  surface: 'Surface',
  notGraded: 'not graded',
  surfaceRemark: (classWords: string, bumps: number): string =>
    `${classWords}, ISO 8608-style; ${bumps === 0 ? 'no joints or bumps found' : `${bumps} joints and bumps listed`}`,

  frame: (atS: string | null): string => `Frame of the clip${atS === null ? '' : ` at ${atS} s`}`,
  frameWithWindow: (atS: string | null, percent: string): string =>
    `${firstScreenTexts.frame(atS)} with the crop window: ${percent} % of the width is lost`,
  cropWindow: 'Crop window',
  caption: (atS: string | null, decides: boolean): string =>
    `Frame${atS === null ? '' : ` at ${atS} s`}${decides ? ', the one that decides the crop' : ''}. Solid: what is delivered of it.`,
  inset: (times: number): string => `Inset: a corner, ${times} times larger.`,
  /** What is lost at one side, px of the delivery. */
  insetLost: (px: string): string => `${px} px lost`,
  captionUnmeasured: (atS: string | null): string => `Frame${atS === null ? '' : ` at ${atS} s`}.`,
  captionWithout: 'No frame could be read from the clip. Solid: what is delivered.',
  layers: 'Drawn over the frame',
  layerOthers: 'Window in other frames (thin)',
  /** In the place of the one before, once the slider has moved the window. */
  layerDeciding: 'Window that decides (dashes)',
  layerSafe: 'Safe area: action 93 % (dashes), title 90 % (dots)',
  layerPoints: (kept: number, dropped: number): string =>
    `Points followed: ${kept} kept (dots)${dropped === 0 ? '' : `, ${dropped} left out (crosses)`}`,

  slider: 'Try another smoothing',
  sliderEnds: ['follows more of the shake', 'steadier'],
  sliderThis: '(this report)',
  seconds: (smoothingS: string): string => `${smoothingS} s`,
  sliderCrop: (percent: string, px: string): string => `crop ${percent} %, ${px} px`,
  sliderLeft: (px: string): string => `${px} px left`,
  sliderLeftUnknown: 'shake left not known',
  sliderStands: stands,
  sliderLens: (mm: string): string => `frames like ${aLens(mm)}`,
  /** The whole setting as a screen reader says it. */
  sliderValue: (smoothingS: string, percent: string, leftPx: string | null, standing: string): string =>
    `${smoothingS} s of smoothing: crop ${percent} %, ${leftPx === null ? 'shake left not known' : `${leftPx} px left`}, ${standing}`,
} as const;
