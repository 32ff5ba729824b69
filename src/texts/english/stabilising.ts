/** What figures on stabilising rest on, and why a setting is recommended. Figures come printed. */

/** Ways of stabilising and their settings. */
export const stabilisingTexts = {
  /** What an assumed shutter matters. */
  shutterMatters: 'motion blur scales with it; crop does not depend on it',
  degrees: (value: number): string => `${value} deg`,
  /** Why there is no other smoothing to set. */
  why: {
    keepMove: 'The move is kept.',
    holdStill: 'The picture is held still, as if locked off; nothing is to be set.',
    smoothest: 'The path is the smoothest one that the accepted crop allows; nothing is to be set.',
  },
  /** Why a smoothing is recommended. */
  smoothing: {
    asWanted: 'Its crop is accepted and no weaker smoothing leaves as little shake for less crop.',
    weakerIsAsGood: 'It leaves as little shake as the smoothing asked for and costs less crop.',
    weakerFits:
      'With the reserve for resampling and measuring error the smoothing asked for costs more crop than is accepted; of those that fit, this leaves least shake.',
    nothingFits:
      'With the reserve for resampling and measuring error no smoothing keeps to the accepted crop, so the one asked for stands: allow more crop, or shake less.',
  },
  /** What the smoothest path makes of the move. */
  smoothest: {
    still: 'the picture can stand still within this crop',
    moving: 'a slow move comes out a little shorter at both ends',
    asFilmed: 'the crop allowed leaves no room: the path is as filmed',
    limitRaised: (remark: string): string =>
      `${remark}; straightening the rows alone needs more crop than was allowed`,
  },
  /** Why no take is foretold. */
  takeRefused: {
    shortTest: (leastS: number): string => `the test is shorter than ${leastS} s`,
    fewPeaks: 'the test holds too few separate peaks of shake',
    farReach: (times: number): string => `the take is more than ${times} times as long as the test`,
  },
} as const;

/** What figures under other conditions rest on. */
export const otherConditionsTexts = {
  widerLens:
    'The dolly shakes the camera by the same angles with the wider lens on it, the sensor is the same, and the lens draws straight lines.',
  otherLens:
    'The dolly shakes the camera by the same angles with the other lens on it (same weight, same mount), the sensor is the same, and the other lens draws straight lines: the distortion of the lens used is not carried over.',
  sameSpeed: 'The speed of the test pass: this is the clip itself.',
  /** @param reach one of the two below @param times how long the same stretch takes */
  otherSpeed: (reach: string, times: number, floor: 'more' | 'less'): string =>
    [
      'Floor: each bump turns the camera by the same angle at any speed, only sooner or later; nothing resonates and the wheels keep contact.',
      'Machine: motor, mount and operator shake at the same rate and strength.',
      reach,
      `The same stretch takes ${times} times as long; the same seconds would cover ${floor} floor.`,
    ].join(' '),
  ripplesMissing: (aboveHz: number): string =>
    `Ripples of the floor too short for the test pass, above ${aboveHz} Hz at this speed, are missing.`,
  smearsAbove: (hz: number): string =>
    `What comes faster than ${hz} Hz at this speed smears within the exposure and shows at a lower rate; it is counted in full.`,
} as const;
