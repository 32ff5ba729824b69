/** What differs between the passes of two setups beside the setup, what each difference does to the comparison, and whether it is fair. */
import type { ComparedPair } from '../../run/index.js';
import { figure } from '../../run/index.js';
import { conditionTexts, conditionValueTexts, type ConditionName } from '../../texts/index.js';
import { SAME_SPEED, speedOf } from './pass-identity.js';
import type { ComparedPass } from './types.js';

type Condition = ComparedPair['conditions'][number];

/** How one condition is read, when two of its values differ, and what that does. */
interface Kind {
  readonly name: ConditionName;
  /** Words of "what is compared by" for which the condition is the question itself. */
  readonly asked?: readonly string[];
  readonly of: (pass: ComparedPass) => number | string | null;
  /** Numbers that differ by less than this factor are alike. */
  readonly within?: number;
  /** A number as it stands in a cell. */
  readonly words?: (printed: string) => string;
}

const HAIR = 1.001;
const LENGTHS_ALIKE = 1.2;

const values = conditionValueTexts;

const KINDS: readonly Kind[] = [
  {
    name: 'floor',
    asked: ['floor', 'location', 'track'],
    of: ({ floor }) => floor ?? null,
  },
  {
    name: 'direction',
    asked: ['direction'],
    of: ({ direction }) => direction,
  },
  {
    name: 'speed',
    asked: ['speed'],
    of: speedOf,
    within: SAME_SPEED,
    words: values.mps,
  },
  {
    name: 'head',
    asked: ['head'],
    of: ({ pass }) => pass.rig.head ?? null,
  },
  {
    name: 'lens',
    of: ({ pass }) =>
      pass.rig.focalLengthMm !== undefined || pass.rig.focalPx !== undefined ? values.given : values.notGiven,
  },
  {
    name: 'split',
    of: ({ pass }) =>
      pass.motion.separation.unsplit || pass.motion.mode === 'rotationOnly' ? values.takenIn : values.apart,
  },
  {
    name: 'wheelbase',
    asked: ['wheelbase', 'dolly', 'setup', 'wheels'],
    of: ({ pass }) => pass.rig.wheelbaseM ?? null,
    within: HAIR,
    words: values.metres,
  },
  {
    name: 'focalLength',
    of: ({ pass }) => pass.rig.focalLengthMm ?? null,
    within: HAIR,
    words: values.opticsMm,
  },
  {
    name: 'sensorWidth',
    of: ({ pass }) => pass.rig.sensorWidthMm ?? null,
    within: HAIR,
    words: values.opticsMm,
  },
  {
    name: 'shutterAngle',
    of: ({ pass }) => pass.rig.shutterAngleDeg ?? null,
    within: HAIR,
    words: values.degrees,
  },
  {
    name: 'frameRate',
    of: ({ pass }) => pass.motion.rateHz,
    within: HAIR,
    words: values.fps,
  },
  {
    name: 'pictureSize',
    of: ({ pass }) => values.size(pass.source.widthPx, pass.source.heightPx),
  },
  {
    name: 'codec',
    of: ({ pass }) => {
      const { codec, bitDepth, interCoded } = pass.sections.clip;
      return values.codec(codec, bitDepth, interCoded === true);
    },
  },
  {
    name: 'translationScale',
    of: ({ pass }) => (pass.motion.translationUnit === 'm' ? values.mm : values.perCent),
  },
  {
    name: 'bandStart',
    of: ({ pass }) => pass.motion.bandHz[0],
    within: HAIR,
    words: values.hertz,
  },
  {
    name: 'passLength',
    of: ({ pass }) => pass.motion.timeS.length / pass.motion.rateHz,
    within: LENGTHS_ALIKE,
    words: values.seconds,
  },
];

/** Names of the conditions under which the noise of two sides is not one and the same. */
const NOISE_CONDITIONS: readonly ConditionName[] = ['pictureSize', 'codec'];

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
      what: conditionTexts[kind.name].what,
      a: wordsOf(kind, a),
      b: wordsOf(kind, b),
      matters: conditionTexts[kind.name].matters,
    })),
    unfair: differing.flatMap((kind) => {
      const { unfair } = conditionTexts[kind.name];
      return unfair === undefined || isAsked(kind) || isUnknown(kind, [...a, ...b]) ? [] : [unfair];
    }),
    noiseShared: !differing.some(({ name }) => NOISE_CONDITIONS.includes(name)),
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

function wordsOf({ of, words: told = (printed) => printed }: Kind, passes: readonly ComparedPass[]): string {
  const words = passes.map((pass) => {
    const value = of(pass);
    if (value === null) return values.notGiven;
    return typeof value === 'number' ? told(figure(value)) : value;
  });
  return [...new Set(words)].join(', ');
}
