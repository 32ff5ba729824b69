/** What differs between the passes of two setups beside the setup, what each difference does to the comparison, and whether it is fair. */
import type { ComparedPair } from '../../run/index.js';
import { figure } from '../../run/index.js';
import { SAME_SPEED, speedOf } from './pass-identity.js';
import type { ComparedPass } from './types.js';

type Condition = ComparedPair['conditions'][number];

/** How one condition is read, when two of its values differ, and what that does. */
interface Kind {
  readonly what: string;
  /** Words of "what is compared by" for which the condition is the question itself. */
  readonly asked?: readonly string[];
  readonly of: (pass: ComparedPass) => number | string | null;
  /** Numbers that differ by less than this factor are alike. */
  readonly within?: number;
  readonly unit?: string;
  readonly matters: string | null;
  /** Why the comparison is then not one of setups alone; missing where it still is. */
  readonly unfair?: string;
}

const HAIR = 1.001;
const LENGTHS_ALIKE = 1.2;

const KINDS: readonly Kind[] = [
  {
    what: 'floor',
    asked: ['floor', 'location', 'track'],
    of: ({ floor }) => floor ?? null,
    matters: 'Another floor shakes the camera differently under any setup.',
    unfair: 'The floors differ: floor and setup cannot be told apart.',
  },
  {
    what: 'direction',
    asked: ['direction'],
    of: ({ direction }) => direction,
    matters: 'Against the other direction front and rear axle swap, so the passes share less.',
    unfair: 'They were rolled in different directions: roll both out and back.',
  },
  {
    what: 'speed',
    asked: ['speed'],
    of: speedOf,
    within: SAME_SPEED,
    unit: 'm/s',
    matters: 'Speed moves and scales what the floor does: as observed, setup and speed count together.',
    unfair: 'The speeds differ by more than 5 %: as observed, setup and speed count together.',
  },
  {
    what: 'head',
    asked: ['head'],
    of: ({ pass }) => pass.rig.head ?? null,
    matters: 'A head that levels itself or is operated takes tilt and roll of the dolly out.',
    unfair: 'The heads differ: what a head takes out would count for the setup.',
  },
  {
    what: 'lens',
    of: ({ pass }) =>
      pass.rig.focalLengthMm !== undefined || pass.rig.focalPx !== undefined ? 'given' : 'not given',
    matters: 'Degrees of a lens that was not given rest on a guess.',
    unfair: 'The lens of one side was not given: its degrees rest on a guess.',
  },
  {
    what: 'split',
    of: ({ pass }) =>
      pass.motion.separation.unsplit || pass.motion.mode === 'rotationOnly'
        ? 'pan and tilt take in sideways and upward motion'
        : 'angles apart from translation',
    matters: 'Where angles could not be told from translation, pan and tilt hold both.',
    unfair: 'On one side pan and tilt take in sideways and upward motion, on the other they do not.',
  },
  {
    what: 'wheelbase',
    asked: ['wheelbase', 'dolly', 'setup', 'wheels'],
    of: ({ pass }) => pass.rig.wheelbaseM ?? null,
    within: HAIR,
    unit: 'm',
    matters: 'Another wheelbase sees other wavelengths of the floor; it counts for the setup.',
  },
  {
    what: 'focal length',
    of: ({ pass }) => pass.rig.focalLengthMm ?? null,
    within: HAIR,
    unit: 'mm',
    matters: null,
  },
  {
    what: 'sensor width',
    of: ({ pass }) => pass.rig.sensorWidthMm ?? null,
    within: HAIR,
    unit: 'mm',
    matters: null,
  },
  {
    what: 'shutter angle',
    of: ({ pass }) => pass.rig.shutterAngleDeg ?? null,
    within: HAIR,
    unit: 'deg',
    matters: 'A longer exposure swallows more of the fast shake.',
  },
  {
    what: 'frame rate',
    of: ({ pass }) => pass.motion.rateHz,
    within: HAIR,
    unit: 'fps',
    matters:
      'Shake above half the frame rate folds down elsewhere; only the band that both rates show is compared.',
  },
  {
    what: 'picture size',
    of: ({ pass }) => `${pass.source.widthPx} x ${pass.source.heightPx}`,
    matters: 'The noise of both is not the same: the ranges are a little wider.',
  },
  {
    what: 'codec',
    of: ({ pass }) => {
      const { codec, bitDepth, interCoded } = pass.sections.clip;
      return `${codec}, ${bitDepth} bit${interCoded ? ', coded across frames' : ''}`;
    },
    matters: 'Coding hides small shake differently: the ranges are a little wider.',
  },
  {
    what: 'scale of translation',
    of: ({ pass }) => (pass.motion.translationUnit === 'm' ? 'mm' : 'per cent of the subject distance'),
    matters: 'The two cannot be compared: sideways, upward and forward shake is left out.',
  },
  {
    what: 'lower end of the band',
    of: ({ pass }) => pass.motion.bandHz[0],
    within: HAIR,
    unit: 'Hz',
    matters: 'Both are split anew at the higher of the two, and compared above it.',
  },
  {
    what: 'length of the pass',
    of: ({ pass }) => pass.motion.timeS.length / pass.motion.rateHz,
    within: LENGTHS_ALIKE,
    unit: 's',
    matters:
      'The longer one holds more floor; crops, which grow with length, are foretold for one length of take.',
  },
];

/** Names of the conditions under which the noise of two sides is not one and the same. */
const NOISE_CONDITIONS: readonly string[] = ['picture size', 'codec'];

/** What differs, and what it does. */
export interface Fairness {
  readonly conditions: Condition[];
  readonly unfair: string[];
  /** Camera and codec are alike, so an error of the noise floor is the same on both sides. */
  readonly noiseShared: boolean;
}

/** @param by what the groups differ in: a condition that is the question itself makes nothing unfair */
export function fairnessOf(a: readonly ComparedPass[], b: readonly ComparedPass[], by: string): Fairness {
  const differing = KINDS.filter((kind) => differs(kind, a, b));
  const isAsked = ({ asked }: Kind): boolean => asked?.includes(by) ?? false;
  return {
    conditions: differing.map((kind) => ({
      what: kind.what,
      a: wordsOf(kind, a),
      b: wordsOf(kind, b),
      matters: kind.matters,
    })),
    unfair: differing.flatMap((kind) =>
      kind.unfair === undefined || isAsked(kind) || isUnknown(kind, [...a, ...b]) ? [] : [kind.unfair],
    ),
    noiseShared: !differing.some(({ what }) => NOISE_CONDITIONS.includes(what)),
  };
}

/** What was not written down cannot be held against a comparison; it is listed. */
function isUnknown({ of }: Kind, passes: readonly ComparedPass[]): boolean {
  return passes.some((pass) => of(pass) === null);
}

/** Alike when both sides hold the same values; a number may stray within its factor. */
function differs({ of, within }: Kind, a: readonly ComparedPass[], b: readonly ComparedPass[]): boolean {
  const [one, other] = [a.map(of), b.map(of)];
  const numbers = [...one, ...other].filter((value) => typeof value === 'number');
  if (within !== undefined && numbers.length === one.length + other.length)
    return Math.max(...numbers) / Math.min(...numbers) > within;
  const [here, there] = [new Set(one), new Set(other)];
  return here.size !== there.size || [...here].some((value) => !there.has(value));
}

function wordsOf({ of, unit }: Kind, passes: readonly ComparedPass[]): string {
  const words = passes.map((pass) => {
    const value = of(pass);
    if (value === null) return 'not given';
    return typeof value === 'number' ? `${figure(value)} ${unit ?? ''}`.trim() : value;
  });
  return [...new Set(words)].join(', ');
}
