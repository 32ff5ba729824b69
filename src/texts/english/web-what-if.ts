/** Words of the sliders beside a verdict: what may be asked, what it is answered, what cannot be foretold. Figures come printed. */
import { whatIfAskedTexts } from './judge-what-if.js';
import { aLens, opticsMm } from './words.js';

/** The panel. */
export const askTexts = {
  title: 'What if',
  lead: 'Ask for another lens, speed, delivery or smoothing. The verdict follows at once.',
  back: 'Back to as measured',
  working: 'Working it out.',
  smoothestSlow: 'The smoothest path takes a few seconds to find.',
  notForetold: 'Not foretold',
  outOfReach: 'This pass cannot tell what was asked: a figure lies out of its reach.',
  failed: 'Questions cannot be answered in this browser. Load the page anew, or open it in another browser.',
  fields: {
    lens: 'Lens',
    lensTimes: 'Lens, times the one used',
    speed: 'Speed',
    smoothing: 'Smoothing',
    delivery: 'Delivery',
    way: 'Stabilise to',
    maxCrop: 'Most crop',
    maxLeft: 'Most shake left, RMS',
  },
  units: { mm: 'mm', times: 'x', mps: 'm/s', s: 's', px: 'px' },
  /** By what a field holds. */
  unitsOf: { lens: 'mm', lensTimes: 'x', speed: 'm/s', smoothing: 's', maxCrop: '%', maxLeft: 'px' },
  /** How far a field reaches. */
  fromTo: (low: string, high: string): string => `${low} to ${high}`,
  upTo: (high: string): string => `up to ${high}`,
  /** @param reach of the field, with its unit */
  outside: (reach: string): string => `This can be asked within ${reach}.`,
  noNumber: (typed: string, unit: string): string => `"${typed}" is not a number of ${unit}.`,
  /** Beside the name of a field, for those who do not see the slider. */
  exact: (field: string, unit: string): string => `${field}, exact, ${unit}`,
  mm: opticsMm,
  times: (value: string): string => `${value} x the lens used`,
  mps: (value: string): string => `${value} m/s`,
  seconds: (value: string): string => `${value} s`,
  used: (value: string): string => `${value}, as measured`,
  ways: whatIfAskedTexts.ways,
  smoothingOnly: 'Only where the move is kept.',
  speedNotKnown:
    'The speed of the pass is not known. Give the speed or the travel in the form, and measure again to ask for others.',
  speedTooShort: 'The clip is too short to tell how it would shake at another speed.',
  asInPass: (words: string): string => `As measured (${words})`,
  deliveryWords: (name: string | null, widthPx: number, heightPx: number): string =>
    name === null ? `${widthPx} x ${heightPx}` : `${name}, ${widthPx} x ${heightPx}`,
} as const;

/** The answer beside the sliders. */
export const askedAnswerTexts = {
  label: 'Answer',
  grade: 'Verdict',
  crop: 'Crop',
  left: 'Shake left',
  /** While there is no answer. */
  none: '–',
  tighterLens: (mm: string): string => `The window frames like ${aLens(mm)}.`,
  tighterTimes: (times: string): string => `The window frames like ${times} x the lens used.`,
  assumes: 'What this takes for granted',
  curve: 'Crop and shake left along the smoothing',
  curveLabel: (crop: string, left: string): string =>
    `Crop and shake left over the smoothing; limits ${crop} % and ${left} px`,
  curveLegend:
    'Diamond: the smoothing that is set. Dashed: the limits. Shaded: the ranges that decide (95 %).',
  lacks: {
    speed: 'The clip shows the pass as it was filmed: another speed or dolly is not in its frames.',
    widerLens: 'The clip shows the lens that was used: a wider one sees more than its frames hold.',
  },
} as const;
