/**
 * A word for a floor that a crew can say aloud, from its roughness Gd(n0) in m^3 as rolled, and the longest lens that it allows in mm.
 *
 * The words are our own, six steps whose limits are limits of the classes (ISO 8608 and our finer steps under A), so that word and
 * class can never say different things. A word is about the floor with everything that lies on it: joints make it worse, and taking
 * them out never makes it better. It is no verdict on a pass, whose lens, speed and dolly are its own.
 */
import { surfaceClass } from '../roughness/surface-class.js';
import { longestFocalMm, STEADY_PX, CROP_MARGIN_PX, referenceShake } from './spoken-dolly.js';

/** Six words, the smoothest floor first. */
export type SpokenWord = 'glass' | 'silk' | 'linen' | 'burlap' | 'gravel' | 'rubble';

/** The roughest class that a word takes in, by its geometric mean; null for the last word, which takes in the rest. */
const ROUGHEST_MEAN_M3: readonly (readonly [SpokenWord, number | null])[] = [
  ['glass', 6.25e-8],
  ['silk', 2.5e-7],
  ['linen', 1e-6],
  ['burlap', 4e-6],
  ['gravel', 16e-6],
  ['rubble', null],
];

/** A line of the scale; null where the last word has no limit. */
export interface SpokenStep {
  readonly word: SpokenWord;
  /** Gd(n0) as rolled lies below this, m^3. */
  readonly belowM3: number | null;
  /** Roughest class of the word. */
  readonly roughestClass: string | null;
  /** What every floor of the word allows: see `SpokenGrade`. */
  readonly steadyUpToMm: number | null;
  readonly withCropUpToMm: number | null;
}

/** Whether a word has no limit: as an upper bound it says nothing. */
export function isRoughest(word: SpokenWord): boolean {
  return word === 'rubble';
}

/** The word for one floor. */
export interface SpokenGrade {
  readonly word: SpokenWord;
  /** The roughness behind it is an upper bound: say "linen or better". */
  readonly orBetter: boolean;
  /** Longest focal length at which the raw tilt shake of the reference dolly on this floor stays within 1 px RMS. */
  readonly steadyUpToMm: number;
  /** Longest at which a crop of 5 % covers the tilt shake of 10 s in 19 takes of 20. */
  readonly withCropUpToMm: number;
}

/** The scale as a table, the smoothest word first; focal lengths are those at the upper limit of a word. */
export function spokenScale(): readonly SpokenStep[] {
  return ROUGHEST_MEAN_M3.map(([word, meanM3]): SpokenStep => {
    const roughest = meanM3 === null ? null : surfaceClass(meanM3);
    const belowM3 = roughest?.upperM3 ?? null;
    return {
      word,
      belowM3,
      roughestClass: roughest?.name ?? null,
      steadyUpToMm: belowM3 && steadyMm(belowM3),
      withCropUpToMm: belowM3 && croppedMm(belowM3),
    };
  });
}

/**
 * The word for a floor and what it allows with the reference dolly of `spoken-dolly.ts`, focal lengths for a 36 mm wide sensor.
 *
 * @param gdAsRolledM3 single-track Gd(n0) at w = 2 with joints and bumps counted, m^3
 * @param upperBound the pass says "at most" this
 * @throws RangeError unless gdAsRolledM3 > 0
 * @example spokenGrade(1e-6, false).word // 'linen'
 */
export function spokenGrade(gdAsRolledM3: number, upperBound: boolean): SpokenGrade {
  const { meanM3 } = surfaceClass(gdAsRolledM3);
  // Means stand apart by 4, so half way between two of them tells which class is meant whatever the last digit.
  const found = ROUGHEST_MEAN_M3.find(([, roughestM3]) => roughestM3 !== null && meanM3 < 2 * roughestM3);
  return {
    word: found?.[0] ?? 'rubble',
    orBetter: upperBound,
    steadyUpToMm: steadyMm(gdAsRolledM3),
    withCropUpToMm: croppedMm(gdAsRolledM3),
  };
}

function steadyMm(gdM3: number): number {
  return longestFocalMm(STEADY_PX, referenceShake(gdM3).rmsRad);
}

function croppedMm(gdM3: number): number {
  return longestFocalMm(CROP_MARGIN_PX, referenceShake(gdM3).peakRad);
}
