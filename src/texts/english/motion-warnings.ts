/** What a person should know of how the motion of a clip was measured. Figures come printed, without their unit. */

/** The path, its gaps and its scale. */
export const motionWarningTexts = {
  cutoffRaised: (hz: string, askedHz: number): string =>
    `The clip is short: vibration is counted from ${hz} Hz instead of ${askedHz} Hz.`,
  lostFrames: (count: number): string =>
    `${count} frames held too few steady tracks; the path is interpolated there.`,
  gap: (seconds: string): string =>
    `There is a gap of ${seconds} s without a usable frame: the path across it is a guess, and the figures of vibration leave it out.`,
  weakStretch: (fromS: string, axes: readonly string[], times: number): string =>
    `From ${fromS} s on, the picture gives too little to hold on to: ${axes.join(', ')} are more than ${times} times as uncertain as in the rest of the clip.`,
  travelAndSpeedDiffer: (travelMps: string, givenMps: string): string =>
    `Over the travel given the dolly would have rolled at ${travelMps} m/s, but ${givenMps} m/s were given: one of the two is wrong. Lengths here go by the travel.`,
  scaleImplausible: (sceneM: string): string =>
    `With the travel or speed given, the scene would be ${sceneM} m away: check that figure.`,
  stretchLeftOut: (fromS: string, toS: string): string =>
    `From ${fromS} to ${toS} s the picture does not tell how the camera moved (something that moves by itself fills it, or the dolly stands): that stretch is left out.`,
  scaleBridged: (beforeS: string): string =>
    `No point is followed across the stretch before ${beforeS} s: the dolly is taken to have kept its speed there, and lengths before and after it can differ by as much as the speed did.`,
} as const;

/** A lens that bends lines. */
export const distortionTexts = {
  found: (k1: string, low: string, high: string): string =>
    `The points ask for a lens that bends lines (k1 about ${k1}, ${low} to ${high}): figures are freed of it. Calibrate the lens once with "trundle lens".`,
  mayBeFocalLength:
    'A k1 like this can also mean that the focal length is not the one that was given or assumed: check that first.',
  strong:
    'The points ask for a lens that bends lines very strongly, more than this clip can tell: figures are freed of most of it and are rough. Calibrate the lens once with "trundle lens".',
  unknown:
    'The view is wide and the distortion of the lens was not given; this clip does not tell it well enough, and it could change the figures. Calibrate the lens once with "trundle lens".',
} as const;

/** What a wrong focal length does. */
export const focalEffectTexts = {
  right: 'right',
  reads: (percent: number, course: 'large' | 'small'): string => `${percent} % ${course}`,
  axes: (pan: string, roll: string, lateral: string, axial: string): string =>
    `pan and tilt read ${pan}, roll ${roll}, lateral and vertical ${lateral}, axial ${axial}`,
  ifTaken: (tooLong: string, tooShort: string): string =>
    `if it is taken 10 % too long, ${tooLong}; 10 % too short, ${tooShort}`,
} as const;
