/** Other setups on the floor of a pass: what each is called, what it rests on, and why one cannot be foretold. */
import { opticsMm } from './words.js';

/** Names of setups, as they stand in a cell. Figures come printed, without their unit. */
export const otherSetupNames = {
  thisPass: 'this pass',
  speed: (mps: string): string => `${mps} m/s`,
  wheelbase: (mm: string): string => `wheelbase ${mm} mm`,
  wheels: (mm: string): string => `wheels of ${mm} mm`,
  wheelsTwiceAsLarge: 'wheels twice as large',
  hardWheels: 'hard wheels',
  softTyres: 'soft tyres',
  lens: opticsMm,
  lensFactor: (factor: string): string => `${factor} x the focal length`,
} as const;

/** What a setup rests on, or why it cannot be foretold. */
export const otherSetupTexts = {
  fromTheFit: 'From the fitted roughness and the listed bumps.',
  asMeasured:
    'Worked out like the other rows, from the floor as this pass measured it; the measured shake itself stands with the figures.',
  speed: 'The wheels keep to the floor, and the exposure stays the same.',
  wheelbase: 'The deck stays rigid and the camera over its middle.',
  largeWheels: 'Dips are narrow gaps: a wheel twice as large sinks in half as deep.',
  hardWheels: 'Wheels of the same size that hardly flatten.',
  softTyres: 'Tyres of the same size that touch the floor over 40 to 50 mm and do not bounce.',
  lens: 'The camera turns by the same angles with the other lens on it.',
  giveLens: 'Give the focal length and the width of the sensor.',
  surface: 'It lies as it lay in its own run, joints included, and does not give under the wheels.',
  unseen: (percent: string, whose: 'this' | 'its'): string =>
    `${percent} % of the power is of waves that ${whose} pass did not show.`,
  tooManyUnseenWaves:
    'Most of the shake would come from waves of the floor that this pass did not show: roll a test pass that way.',
  runTooShort: 'The run is over too soon at this speed.',
  boundAlone: 'Its own run found no more than a bound: nothing can be foretold from it.',
  ownBoundAlone: 'This pass only bounds its own floor, so nothing can be held against it.',
} as const;
