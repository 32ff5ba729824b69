/** Why motion, or translation in it, cannot be told, which axes are in doubt, and what to change for the next pass. Figures come printed, without their unit. */

/** Why no motion was measured. */
export const unmeasuredTexts = {
  tooLittle: 'The clip holds too few frames or steady tracks to measure motion from.',
  tooFewGoodFrames: 'Too few frames hold enough steady tracks to measure motion from.',
  rateTooLow:
    'The clip has too few frames a second to show shake: two and a half are needed to each period of the cut-off, at which shake begins. Film at 24 frames a second or more, or lower the cut-off.',
  noOnePath:
    'No one camera path explains how the points move: things that move by themselves fill the frame, or the picture bends (a very wide lens whose distortion was not given, a slow rolling shutter, stabilising in the camera).',
} as const;

/** Why translation cannot be told from rotation, or only roughly. */
export const unsplitTexts = {
  nothingMoves:
    'Nothing moves in this clip beyond the tracking noise; translation is bounded in per cent of the subject distance.',
  noTravel:
    'The camera did not travel, so near and far points move alike and translation cannot be told from rotation.',
  shortTracks:
    'No point stays in sight long enough to show how far away it is, so translation cannot be told from rotation: pan and tilt here include it.',
  rough: (parallax: string): string =>
    `The camera travelled so little that near and far points moved apart by only ${parallax} times the tracking noise: take the translation figures as rough.`,
  oneDistance: (correlation: string): string =>
    `All tracked points lie at nearly one distance for this lens, so sideways motion looks exactly like pan (correlation ${correlation}): pan and tilt here include it.`,
  floorTooHigh: (axis: string, floorMm: string): string =>
    `The noise floor of ${axis} motion is ${floorMm} mm, because the tracked points hardly differ in distance: pan and tilt here include what of it there is.`,
} as const;

/** Why the figure of an axis is not to be relied on. */
export const axisDoubtTexts = {
  lensBendsTooMuch: (axis: string): string =>
    `The lens bends lines more than the figures could be freed of, and nobody knows what that does to ${axis} motion.`,
  lensMayBend: (axis: string, percent: number): string =>
    `The lens may bend lines by more than this clip can tell: its distortion, which was not given, could change ${axis} motion by ${percent} %.`,
  knocksWithinRows: (axis: string): string =>
    `The sensor is read row by row, and knocks shook the camera faster than the frames can follow: what they did to ${axis} motion while a frame was read is only partly known.`,
} as const;

/** What to change so that the next pass tells translation from rotation. */
export const showDepthTexts = {
  slowerPan:
    'Hold the head still or pan more slowly: points have to stay in the frame for half a second or longer.',
  shorterLens:
    'Test with a shorter lens (a 35 mm lens on full frame or shorter): it sees the perspective even of a flat scene. The floor is the same for both.',
  /** @param where one of the two below */
  nearObject: (where: string): string =>
    `Put something with texture ${where}, so that it holds about half of the picture, and leave the rest as it is.`,
  withinMetres: (nearM: string, medianM: string): string =>
    `within ${nearM} m of the lens (the points of this pass lie around ${medianM} m)`,
  withinPercent: (percent: number): string => `within ${percent} % of the present distance`,
  nearAndFar: 'Let the frame hold things near and far: some within 2.5 m and some beyond 4 m.',
  roll: 'Roll the dolly while recording, half a metre or more: a camera that stays in place shows no depth.',
  rollFarther: (times: number): string =>
    `Roll ${times} times as far in the same time, or look at things that are nearer.`,
} as const;
