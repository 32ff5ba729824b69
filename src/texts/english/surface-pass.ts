/** What a pass lacks for its floor to be read, what was taken instead, and what does not fit. Figures come printed, without their unit. */

/** What to give or do where the floor cannot be read. */
export const floorRefusalTexts = {
  giveCameraHeight:
    'Give the camera height: a self-levelling head hides the pitch of the deck, which then shows only as the lens being carried to and fro at its height.',
  lockTheHead:
    'Lock the head, or give the travel and film a scene with near and far things: on a self-levelling head the floor shows only in the translation, which this clip does not give in metres.',
  giveAzimuth:
    'Give the lens azimuth (0 looks ahead, 90 to the right of travel): where only one angle of the camera is the deck’s, it decides what that says about the floor.',
  oneAngle: (offDegrees: string, operated: boolean): string =>
    `Roll a test pass with the head locked, or with the lens held straight ahead or straight to the side: it looks up to ${offDegrees} degrees off, and ${operated ? 'on an operated head' : 'with one angle of the camera unknown'} pitch and roll of the deck cannot be told apart there.`,
  nothingMeasured:
    'The motion of the camera could not be measured in this clip, so nothing can be said about the floor.',
  didNotRoll:
    'Nothing in the picture shows that the dolly rolled: near and far things do not move against each other. A camera that stays in place says nothing about a floor.',
  giveSpeed:
    'Give the speed or the travel of the pass: without it frequencies cannot be turned into wavelengths on the floor.',
  giveWheelbase:
    'Give the wheelbase (to 5 mm): without it the pitch of the deck cannot be turned into heights of the floor.',
  giveTrackWidth:
    'Give the track width, or lock the head: this clip shows only the roll of the deck, and without the track width that cannot be turned into heights of the floor.',
  tooShort: (movedM: string, neededM: string): string =>
    `Roll a longer pass: the dolly moved ${movedM} m and a grade of the floor needs at least ${neededM} m (two wheelbases and a little more).`,
} as const;

/** What was taken where nothing was given: value, and how much it matters. */
export const floorAssumedTexts = {
  azimuth: {
    ahead: '0 (looking ahead)',
    asSeen: (degrees: string): string => `${degrees} (as the picture travels)`,
    matters:
      'decides which of tilt and roll is the pitch of the deck; 10 degrees off changes the grade little',
  },
  head: {
    value: 'locked',
    matters: 'an operated or self-levelling head would hide the pitch of the deck and make the grade wrong',
  },
  offset: {
    value: '0 m (over the middle of the wheelbase)',
    matters:
      'pitch times this length shows as height: 0.4 m off can raise the roughness as rolled by half, the grade by little',
  },
  shutter: {
    value: (degrees: number): string => `${degrees} degrees`,
    matters: 'a longer exposure smooths short waves; the grade moves by a few per cent',
  },
  trackWidth: {
    value: 'unknown: left and right wheel tracks taken as half alike',
    matters: 'the roughness can be 30 % lower or 40 % higher',
  },
} as const;

/** What does not fit together. */
export const floorWarningTexts = {
  headLevelsItself: (heightM: string): string =>
    `The lens turns far less than it is carried to and fro at its height of ${heightM} m: the head was taken to keep itself level, and the floor read from the way of the lens. Give head: locked if it is.`,
  deckNotRigid: (seenM: string, givenM: string): string =>
    `The lens is carried to and fro as if it stood ${seenM} m high, and ${givenM} m is given: the mount flexes or the height is wrong. The floor was read from the turns of the lens alone.`,
  rowsSpoilHeight:
    'The rows of the sensor may be read out over more than 5 ms, and the clip does not show how long: the height of the lens was left out of the floor. Give the readout to have it counted.',
  azimuthDiffers: (givenDegrees: string, seenDegrees: string, taken: 'seen' | 'given'): string =>
    `The lens azimuth is given as ${givenDegrees} degrees, but the picture travels as if it were ${seenDegrees}; ${taken === 'seen' ? 'the dolly was taken to roll the way that the picture shows' : 'the given one was used'}.`,
  partOfClip: (fromS: string, toS: string): string =>
    `The dolly stands or turns back in part of the clip; the floor is graded from ${fromS} s to ${toS} s.`,
  unevenSpeed: (percent: string): string =>
    `The speed varies by ${percent} %: wavelengths on the floor are blurred by as much.`,
  jointRowNotSeen: (givenM: string): string =>
    `No row of joints at the ${givenM} m that were given stands out of the floor; joints that are listed were found one by one.`,
  jointSpacingOther: (seenM: string, givenM: string): string =>
    `The joints come out every ${seenM} m, and ${givenM} m were given: measure the joints, the wheelbase and the travel again.`,
  jointSpacingDiffers: (
    seenM: string,
    givenM: string,
    from: 'speed' | 'travel',
    offPercent: string,
    too: 'large' | 'small',
  ): string =>
    `The joints come out every ${seenM} m where ${givenM} m were given: the ${from} that was given is about ${offPercent} % too ${too}, and so are the distances along the run.`,
  wheelbaseOrSpeedOff: (percent: string, course: 'larger' | 'smaller'): string =>
    `Wheelbase over speed fits the clip better when it is ${percent} % ${course}: measure the wheelbase and the travel again.`,
  nothingForetold:
    'Nothing was foretold for the surfaces that could be laid over: this floor has no grade to hold them against.',
  wavinessNot2: (exponent: string): string =>
    `The spectrum of this floor falls with the exponent ${exponent} and not 2: the class holds for the wavelengths shown only.`,
} as const;
