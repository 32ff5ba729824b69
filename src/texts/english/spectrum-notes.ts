/** How a spectrum was made, why it shows no peaks, and what frames, shutter and sound do to it. Figures come printed, without their unit. */

/** Methods of a spectrum. */
export const spectrumMethodTexts = {
  none: 'none: the series is too short',
  sineTapers: (count: number): string => `sine tapers, ${count} over the whole length, one-sided`,
  welch: (averages: number, segmentS: string): string =>
    `Welch, Hann, 50 % overlap, ${averages} averages of ${segmentS} s, one-sided`,
} as const;

/** Why no peaks were looked for. */
export const peakRefusalTexts = {
  tooShort: (leastS: number): string =>
    `The series is shorter than ${leastS} s: too short to look for peaks.`,
  gaps: 'The series has gaps: no peaks were looked for.',
  tooFewBins:
    'The series is too short for its frame rate: too few frequencies to tell a peak from its surroundings.',
  still: 'The series stands still: there is nothing to look for peaks in.',
} as const;

/** What shutter and frame rate hide. */
export const shutterTexts = {
  folds: (fps: string, aboveHz: string): string =>
    `At ${fps} frames/s shake above ${aboveHz} Hz shows at a lower frequency: each source lists what else it could be.`,
  blursAway: (exposureMs: string, hz: string, correctedHz: string): string =>
    `The exposure of ${exposureMs} ms blurs shake of ${hz} Hz away completely; amplitudes are put right up to ${correctedHz} Hz.`,
  /** @param most null where it cannot be told */
  angleAssumed: (degrees: string, hz: string, least: string, most: string | null): string =>
    `The shutter angle was not given, ${degrees} degrees is assumed: at ${hz} Hz the motion itself is ${least} times what is stated with 90 degrees, ${most === null ? 'and cannot be told' : `${most} times`} with 360. Give the angle.`,
} as const;

/** Why nothing was heard in the sound of a clip. */
export const soundRefusalTexts = {
  tooShort: (heldS: string, neededS: number): string =>
    `The sound of the stretch is ${heldS} s long; ${neededS} s are needed.`,
  silent: 'The sound is silent.',
  tooLoud: (percent: string): string =>
    `The sound was recorded too loud: ${percent} % of it is cut off at full scale.`,
} as const;
