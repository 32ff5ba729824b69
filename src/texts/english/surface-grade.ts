/** Grades of a floor: why one is a bound or missing, and what a profile holds. Figures come printed, without their unit. */

/** Roughness. */
export const roughnessTexts = {
  atMost: (className: string): string =>
    `Between joints the floor is class ${className} or smoother (ISO 8608-style).`,
  levelled:
    'Read from the way of a lens that levels itself, a floor as smooth as this one can only be bounded.',
  lockTheHead: 'Lock the head for a class.',
  drowned: 'The shake of this pass hardly rises above the noise of the measurement.',
  goFaster: 'Go faster, or use a longer lens, for a class.',
  rollInNoise:
    'Only the roll of the deck shows in this pass, and it does not stand out of noise and machines: lock the head for a grade of the floor.',
  atLeast: (className: string): string =>
    `Only the roll of the deck shows in this pass, so only how unlike the two wheel tracks are: the floor is class ${className} or rougher (ISO 8608-style). Lock the head for a class.`,
  narrowBand: (mps: string, shortestMm: string, longestMm: string): string =>
    `Go faster: at ${mps} m/s the clip shows only wavelengths from ${shortestMm} to ${longestMm} mm, too narrow a band for a grade.`,
  notOfAFloor: (percent: string): string =>
    `In ${percent} % of the spectrum the shake is none that a floor makes (a machine, or more noise than stated), so the floor can only be bounded: check wheelbase and speed first, then switch motors and fans off, or part the camera from them.`,
  fillsNotches: (times: string): string =>
    `The pitch holds ${times} times the power that a floor can make at wavelengths that fit the wheelbase, so something else shakes the camera and the floor can only be bounded: stiffen the mount, switch motors off, or check wheelbase and speed.`,
} as const;

/** Flatness along a line, and gaps under a straightedge. */
export const flatnessTexts = {
  /** Bands of ACI 117-10. */
  bands: {
    superFlat: 'super flat',
    veryFlat: 'very flat',
    flat: 'flat',
    moderatelyFlat: 'moderately flat',
    conventional: 'conventional',
    below: 'below conventional',
  },
  errorTooLarge: 'The error of the profile is too large against the curvature that it shows.',
  tooFewWaves: (shortestM: string, longestM: string, heldPercent: string, neededPercent: number): string =>
    `The profile holds waves of ${shortestM} to ${longestM} m and with them ${heldPercent} % of what floor flatness counts; ${neededPercent} % are needed: roll faster and farther.`,
  lineTooShort: (runM: string, neededM: number): string =>
    `The run is ${runM} m long; a line of floor flatness needs ${neededM} m.`,
  longWavesMissing: (longestM: string, barM: number, neededM: number): string =>
    `Waves longer than ${longestM} m are not in the profile, and a bar of ${barM}\u202fm needs them up to ${neededM} m: roll faster and farther.`,
  shortWavesMissing: (shortestMm: string, barM: number, neededMm: string): string =>
    `Waves shorter than ${shortestMm} mm are not in the profile, and a bar of ${barM}\u202fm needs them down to ${neededMm} mm: roll slower.`,
  shorterThanBar: (runM: string, barM: number): string =>
    `The run is ${runM} m long, shorter than a bar of ${barM}\u202fm: roll farther.`,
  gapOfError: (gapMm: string, strictestMm: number): string =>
    `The error of the profile alone could make a gap of ${gapMm} mm, more than the ${strictestMm} mm of the strictest limit.`,
  wavesNotInProfile: (shortestMm: string, longestMm: string): string =>
    `Waves shorter than ${shortestMm} mm and longer than ${longestMm} mm are not in this profile.`,
} as const;
