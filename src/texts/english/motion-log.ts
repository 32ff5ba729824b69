/** Words on a motion log: how its clock lies, where it agrees with the picture, what a difference may mean, what it adds. Figures come printed. */
import { aLens, capital, listed } from './words.js';

/** The sentences, and the table of log and picture. */
export const motionLogTexts = {
  heading: 'Motion log',
  caption: (low: string, high: string): string =>
    `Log and picture from ${low} to ${high} Hz, RMS with the noise of each taken off`,
  heads: {
    axis: 'Axis',
    picture: 'Picture',
    log: 'Log',
    difference: 'Difference',
    correlation: 'Correlation',
    gain: 'Log over picture',
    range: '95 % range',
    agree: 'Agree',
  },
  yes: 'yes',
  no: 'no',

  notAligned: (reason: string | null): string =>
    `The motion log could not be aligned with the clip: ${reason ?? 'no reason is known'}. Nothing of it is used.`,
  faulty: (reason: string): string => `${reason}. What is wrong there is not compared.`,
  agree: (axes: readonly string[]): string =>
    `${capital(listed(axes))} ${axes.length === 1 ? 'agrees' : 'agree'} with the picture within the noise of both. A log sees only turning, so this checks the split of angle from translation by other means.`,
  tooQuiet: (axes: readonly string[]): string =>
    `On ${listed(axes)} there is too little shake to compare; both say so.`,
  /** @param gain how many times the picture's turn the log has; null when that is not known */
  differs: (axis: string, deg: string, gain: string | null): string =>
    `${capital(axis)} differs by ${deg} deg RMS, more than the noise of both${gain === null ? '' : `; the log turns ${gain} times as much as the picture`}.`,

  meansBoth:
    'In this clip the picture could not tell translation from angle, so its pan and tilt hold both; the log has the angle alone.',
  meansFocal: (factor: string, focal: string): string =>
    `Pan and tilt both turn about ${factor} times as much in the log, roll does not: ${focal}.`,
  meansTranslation: (axes: readonly string[]): string =>
    `Roll agrees, so log and picture are in step: translation that the picture took for ${listed(axes)} would look like this.`,
  focalMm: (likely: string, given: string): string =>
    `the clip was probably shot with about ${aLens(likely)} instead of ${aLens(given)}`,
  focalPx: (likely: string, given: string): string =>
    `the focal length is probably about ${likely} px instead of ${given} px`,
  focalTooLong: (times: string): string => `the focal length is probably about ${times} times too long`,
  focalTooShort: (times: string): string => `the focal length is probably about ${times} times too short`,

  beyondBelow: (axis: string, low: string, high: string, deg: string): string =>
    `${capital(axis)} from ${low} to ${high} Hz, too fast for this frame rate: below ${deg} deg.`,
  beyond: (
    axis: string,
    low: string,
    high: string,
    is: {
      readonly deg: string;
      readonly strongestHz: string | null;
      readonly blurred: string;
      readonly folded: string;
    },
  ): string =>
    `${capital(axis)} from ${low} to ${high} Hz, too fast for this frame rate: ${is.deg} deg RMS${is.strongestHz === null ? '' : `, strongest at ${is.strongestHz} Hz`}; ${is.blurred} deg of it blurs within the exposure, ${is.folded} deg shows as false slower shake.`,

  clockLies: (samplesPerS: string, seconds: string, behind: boolean, withinMs: string): string =>
    `The log (${samplesPerS} samples a second) is ${seconds} s ${behind ? 'behind' : 'ahead of'} the clip's time stamps, to ${withinMs} ms`,
  clockSteady: (lies: string): string => `${lies}.`,
  clockDrifts: (lies: string, millionths: string, fast: boolean): string =>
    `${lies} and runs ${millionths} millionths ${fast ? 'fast' : 'slow'} against it.`,
  clockFault: (percent: string, fast: boolean): string =>
    `The log's clock runs ${percent} % ${fast ? 'fast' : 'slow'} against the clip's time stamps; the comparison allows for it.`,
  clockMiddle: (lies: string): string => `${lies} in the middle of the clip.`,
} as const;
