/** What stands in the way of a verdict, and what a crew should know beside one. Figures come printed, without their unit. */

/** Why a clip does not support a verdict. Units are those of the figure in the reason. */
export const obstacleTexts = {
  units: { ofFrame: '% of the frame', ofPoints: '% of the points', ofFrames: '% of the frames' },
  tooFewTracks: (points: string, needed: number): string =>
    `Too little to hold on to: ${points} points could be followed, ${needed} are needed. The picture is too dark, too soft or has no texture.`,
  coverageTooSmall: (percent: string, needed: number): string =>
    `The points that could be followed sit in ${percent} % of the frame; ${needed} % are needed.`,
  tooFewFrames: (frames: number, least: number): string =>
    `The range is too short: ${frames} frames; ${least} are the least, 10 s the working length.`,
  tooShort: (seconds: string, neededS: string): string =>
    `The range is too short: ${seconds} s; two periods of the slowest vibration take ${neededS} s.`,
  noCameraPath: 'No camera path fits the points.',
  subjectFillsFrame: (percent: string, needed: number): string =>
    `Only ${percent} % of the points move with the room; ${needed} % are needed. Something that moves by itself fills the frame.`,
  noiseTooLarge: (px: string, mostPx: string): string =>
    `The points jitter by ${px} px by themselves; up to ${mostPx} px can be measured through. Grain, blur or heavy compression.`,
  tooManyFramesRejected: (percent: string, most: number): string =>
    `${percent} % of the frames could not be used; at most ${most} % may be missing.`,
  anglesNotMeasured: 'No axis of the shake could be measured.',
} as const;

/** Notes: none of them decides. */
export const verdictNoteTexts = {
  angularShare: (percent: string, range: readonly [string, string] | null): string =>
    `${percent} % of the shake is angular${range === null ? '' : ` (${range[0]} to ${range[1]} %)`}: that part one warp per frame removes.`,
  blurPulses: (px: string): string =>
    `After stabilising the sharpness will pulse: motion blur changes by ${px} px from frame to frame (with the shutter angle of the setup).`,
  surfaceGrades: (classWithRange: string): string =>
    `The surface grades ${classWithRange} on the ISO 8608-style scale.`,
  surfaceNotGraded: (reason: string | null): string =>
    `The surface was not graded${reason ? `: ${reason}` : '.'}`,
  /** @param need one of the three below */
  longerTake: (takeS: string, need: string, allowed: string): string =>
    `A ${takeS} s take on a floor like this may need ${need}; ${allowed} % is allowed.`,
  needMoreThanHalf: 'more than half of the picture',
  needOrMore: (percent: string): string => `${percent} % or more (the test holds few hits)`,
  needUpTo: (percent: string): string => `up to ${percent} % (19 in 20 stay below)`,
} as const;
