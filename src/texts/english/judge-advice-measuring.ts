/** Advice for the next measurement: what to do so that it can tell what this one could not. Figures come printed, without their unit. */

/** Steps beside a verdict. */
export const measuringAdviceTexts = {
  calibrateLens: {
    text: 'Calibrate the lens once with "trundle lens" and measure this clip again.',
    effect: 'Tells how the lens bends lines, so that the translational part can be relied upon.',
  },
  fasterReadout: {
    text: 'Shoot the pass again in a recording mode with a faster readout, or at a higher frame rate.',
    effect: 'Lets the frames follow the knocks, so that the translational part can be relied upon.',
  },
  correctRows: {
    text: 'Correct the rolling shutter row by row in post, or use a recording mode with a faster readout.',
    effect: 'Takes the wobble within the frame down with the readout time.',
  },
  showDepth: {
    text: 'Put things at two or three distances in the shot, some within 2.5 m and some beyond 4 m, and roll the pass again.',
    effect: 'Lets the translational part be measured.',
  },
  shorterShutter: {
    text: (degrees: number): string => `Use a shutter of ${degrees} degrees or less.`,
    /** Pulsing over the limit of shake left may still be less than an angle is looked for. */
    noAngle: (letPassPx: string): string =>
      `Use a shutter as short as the light allows; no angle is named, for pulsing below ${letPassPx} px is let pass.`,
    shortest: 'Use the shortest shutter there is; none takes the pulsing away.',
    falls: (nowPx: string, thenPx: string): string => `Blur that pulses falls from ${nowPx} to ${thenPx} px.`,
    fallsInStep: 'Blur that pulses falls in step with the shutter angle.',
    /** @param falls one of the two above */
    effect: (falls: string): string => `${falls} The exposure has to be made up by light or stop.`,
  },
} as const;

/** How to shoot the test pass again, by what stood in the way of a verdict. */
export const reshootTexts = {
  lightAndTexture: {
    text: 'Shoot again with more light and something with texture in view, such as boards, tape marks or a patterned cloth.',
    effect: 'Gives points that can be followed.',
  },
  fillFrame: {
    text: 'Shoot again with texture spread over the whole frame: tilt to include the floor or hang marks on the plain wall.',
    effect: 'Lets roll be told from a shift.',
  },
  withoutSubject: {
    text: 'Shoot the test pass again without people or moving things in the frame.',
    effect: 'Leaves the room itself to measure against.',
  },
  plain: {
    text: 'Shoot the test pass again with nothing moving in the frame and stabilising in the camera or lens off; give the lens distortion of a very wide lens.',
    effect: 'Leaves one camera path that explains the picture.',
  },
  cleaner: {
    text: 'Shoot again with more light, a shorter shutter and a higher data rate.',
    effect: 'Less grain, blur and compression in what is measured.',
  },
  longer: {
    text: 'Roll a longer pass: 10 s is the working length.',
    effect: 'Holds enough periods of the slowest vibration.',
  },
  oneTake: {
    text: 'Use one take with no cuts and no repeated frames, or set in and out points around them.',
    effect: 'Leaves a stretch that can be measured.',
  },
  /** Where no single obstacle is known. */
  anyway: {
    text: 'Shoot the test pass again: more light, texture across the frame, nobody in it, 10 s or longer.',
    effect: 'Gives the picture enough to be measured against.',
  },
} as const;
