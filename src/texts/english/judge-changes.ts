/** Changes of a pass: what is taken for granted when one is foretold, and why one cannot be, as sentences. */
import { aLens } from './words.js';

/** Another speed. */
export const otherSpeedTexts = {
  notKnown: 'The speed of this pass is not known; give the speed or the travel and measure again.',
  tooShort: 'At this speed the stretch would pass too quickly to tell the move from the shake.',
  tooSlow: 'The pass holds nothing at frequencies as high as this speed would need.',
  wheelsKeepToFloor:
    'Each bump turns the camera by the same angle at any speed, only sooner or later; the wheels keep to the floor.',
  machinesKeepFrequency: 'Machines that are named keep their frequency.',
  noMachineKnown: 'No machine is known: the range runs from all floor to all machine.',
  mountRingsOn: (hz: number): string => `The mount goes on ringing at ${hz} Hz.`,
  fasterInFull: 'What comes faster than half the frame rate is counted in full.',
  shortRipplesMissing: 'Ripples of the floor too short for the test pass are missing.',
} as const;

/** Another floor, other axles or wheels. */
export const otherFloorTexts = {
  notGraded:
    'The floor of this pass has no grade to foretell other axles, wheels or surfaces from: give speed or travel and the wheelbase, and measure again.',
  runTooShort: 'The run is too short to foretell that.',
  wavesNotSeen:
    'Most of the shake would come from waves of the floor that this pass did not show: roll a test pass that way.',
  boundAlone: 'This pass found no more than a bound for its floor: nothing can be foretold from it.',
  runOfBoundAlone: (run: string): string =>
    `The run of ${run} found no more than a bound: nothing can be foretold from it.`,
  noRoughness: 'This pass found no roughness to hold a surface against.',
  noWheelDiameter: 'The diameter of the wheels of this pass is not known; give it with --wheel-diameter.',
  deckRigid: 'The deck stays rigid and the camera over its middle.',
  wheelsDoNotBounce: 'The wheels keep to the floor and do not bounce.',
  boardsLieFirm: 'The boards or rail lie without joints that are felt and do not give under the wheels.',
  liesAsItLay: 'It lies as it lay in its own run, joints included, and does not give under the wheels.',
} as const;

/** Joints shimmed, sources stopped. */
export const remedyTexts = {
  floorNotGraded: 'The floor of this pass was not graded: no joint is known to shim.',
  noSuchBump: 'No such joint or bump is in the list of this pass.',
  shimsHold: 'The shims hold and the ramps on either side are long.',
  noSuchSource: 'Nothing of that source is known in this pass.',
  stoppedAsAWhole: 'The source is stopped as a whole, and nothing else changes.',
} as const;

/** Another lens or sensor. A focal length stands beside the word lens always. */
export const otherLensTexts = {
  sameAngles:
    'The dolly shakes the camera by the same angles with the other lens on it (same weight, same mount), and the other lens draws straight lines: the distortion of the lens used is not carried over.',
  lensTaken: (mm: number): string => `The lens of the pass was not given: ${aLens(String(mm))} was taken.`,
  sensorTaken: (mm: number): string =>
    `The sensor of the pass was not given: a sensor ${mm} mm wide was taken.`,
  sameShape: 'The other sensor has the shape of the one used and reads its rows as fast.',
  giveFocal: 'The pass was measured with a focal length in pixels: give --focal beside --sensor.',
  giveSensor: 'The pass was measured with a focal length in pixels: give --sensor beside --focal.',
} as const;
