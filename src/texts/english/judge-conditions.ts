/** What may differ between two setups beside the setup: what it is called, what it does, and why it makes a comparison unfair. */
import { opticsMm } from './words.js';

interface ConditionWords {
  readonly what: string;
  readonly matters: string | null;
  readonly unfair?: string;
}

const WORDS = {
  floor: {
    what: 'floor',
    matters: 'Another floor shakes the camera differently under any setup.',
    unfair: 'The floors differ: floor and setup cannot be told apart.',
  },
  direction: {
    what: 'direction',
    matters: 'Against the other direction front and rear axle swap, so the passes share less.',
    unfair: 'They were rolled in different directions: roll both out and back.',
  },
  speed: {
    what: 'speed',
    matters: 'Speed moves and scales what the floor does: as observed, setup and speed count together.',
    unfair: 'The speeds differ by more than 5 %: as observed, setup and speed count together.',
  },
  head: {
    what: 'head',
    matters: 'A head that levels itself or is operated takes tilt and roll of the dolly out.',
    unfair: 'The heads differ: what a head takes out would count for the setup.',
  },
  lens: {
    what: 'lens',
    matters: 'Degrees of a lens that was not given rest on a guess.',
    unfair: 'The lens of one side was not given: its degrees rest on a guess.',
  },
  split: {
    what: 'split',
    matters: 'Where angles could not be told from translation, pan and tilt hold both.',
    unfair: 'On one side pan and tilt take in sideways and upward motion, on the other they do not.',
  },
  wheelbase: {
    what: 'wheelbase',
    matters: 'Another wheelbase sees other wavelengths of the floor; it counts for the setup.',
  },
  focalLength: { what: 'focal length', matters: null },
  sensorWidth: { what: 'sensor width', matters: null },
  shutterAngle: {
    what: 'shutter angle',
    matters: 'A longer exposure swallows more of the fast shake.',
  },
  frameRate: {
    what: 'frame rate',
    matters:
      'Shake above half the frame rate folds down elsewhere; only the band that both rates show is compared.',
  },
  pictureSize: {
    what: 'picture size',
    matters: 'The noise of both is not the same: the ranges are a little wider.',
  },
  codec: {
    what: 'codec',
    matters: 'Coding hides small shake differently: the ranges are a little wider.',
  },
  translationScale: {
    what: 'scale of translation',
    matters: 'The two cannot be compared: sideways, upward and forward shake is left out.',
  },
  bandStart: {
    what: 'lower end of the band',
    matters: 'Both are split anew at the higher of the two, and compared above it.',
  },
  passLength: {
    what: 'length of the pass',
    matters:
      'The longer one holds more floor; crops, which grow with length, are foretold for one length of take.',
  },
} as const satisfies Readonly<Record<string, ConditionWords>>;

/** Names of the conditions. */
export type ConditionName = keyof typeof WORDS;

/** The words of each condition; `unfair` stands where a difference makes the comparison one of more than the setups. */
export const conditionTexts: Readonly<Record<ConditionName, ConditionWords>> = WORDS;

/** Values of conditions as they stand in a cell. */
export const conditionValueTexts = {
  given: 'given',
  notGiven: 'not given',
  takenIn: 'pan and tilt take in sideways and upward motion',
  apart: 'angles apart from translation',
  mm: 'mm',
  perCent: 'per cent of the subject distance',
  size: (widthPx: number, heightPx: number): string => `${widthPx} x ${heightPx}`,
  codec: (name: string, bits: number, acrossFrames: boolean): string =>
    `${name}, ${bits} bit${acrossFrames ? ', coded across frames' : ''}`,
  metres: (value: string): string => `${value} m`,
  mps: (value: string): string => `${value} m/s`,
  /** Of a lens or a sensor. */
  opticsMm,
  degrees: (value: string): string => `${value} deg`,
  fps: (value: string): string => `${value} fps`,
  hertz: (value: string): string => `${value} Hz`,
  seconds: (value: string): string => `${value} s`,
} as const;
