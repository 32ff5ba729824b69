/**
 * What a comparison of runs says, schema "trundle-comparison/1": setups against each other with the range of each ratio, whether the
 * comparison is fair, and the lanes of a floor on a plan.
 */
import { z } from 'zod';
import { AXES } from './axes.js';
import { warningSchema } from './warning-schema.js';

/** Format and version of a comparison. */
export const COMPARISON_SCHEMA = 'trundle-comparison/1';

const num = z.number();
const orNull = num.nullable();
const pair = z.tuple([num, num]);
const ranged = z.strictObject({ value: num, low: num, high: num });

/** One run that was compared. */
export const comparedRunSchema = z.strictObject({
  /** Where it came from: a folder, or its number in the log. */
  place: z.string(),
  clip: z.string(),
  createdAt: z.string(),
  lane: z.string(),
  direction: z.enum(['out', 'back']).nullable(),
  passNumber: orNull,
  speedMps: orNull,
  travelM: orNull,
  durationS: num,
  /** Noise taken off, degrees; null below the noise. */
  rmsDeg: z.strictObject({ pan: orNull, tilt: orNull, roll: orNull }),
  /** Of this pass on the common lens, per cent of the width. */
  cropPercent: num,
  grade: z.enum(['pass', 'marginal', 'fail', 'unmeasurable']),
});

/** A ratio of RMS, A over B: below 1 A is smoother. */
export const ratioSchema = z.strictObject({
  /** Mean over lanes (in the logarithm), noise taken off, in `unit`; null below the noise. */
  aRms: orNull,
  bRms: orNull,
  unit: z.string(),
  ratio: orNull,
  ci95: pair.nullable(),
  degrees: orNull,
  /** Two-sided, and as corrected for the whole family (Holm). */
  p: orNull,
  pHolm: orNull,
  /** Chance that A is the smoother one. */
  aSmoother: orNull,
  says: z.enum(['aSmoother', 'bSmoother', 'noClearDifference', 'sameWithin10', 'notCompared']),
  /** Plain words with the figures in them; says why where nothing was compared. */
  sentence: z.string(),
  /** How many passes on each side, or lanes, would show a difference of 20 %; null where more of them do not help. */
  needed: z.strictObject({ of: z.enum(['passes', 'lanes']), count: num }).nullable(),
});

const cropSideSchema = z.strictObject({ medianPercent: orNull, upper95Percent: orNull });

/** Two setups against each other. */
export const comparedPairSchema = z.strictObject({
  a: z.string(),
  b: z.string(),
  /** oneLane: one lane with both; pairedLanes: several lanes, each with both; ownLanes: no lane has both. */
  design: z.enum(['oneLane', 'pairedLanes', 'ownLanes']),
  lanes: z.array(z.string()),
  passes: z.strictObject({ a: num, b: num }),
  /** How far the result reaches. */
  claim: z.enum(['thisLane', 'floorsLikeThese', 'theseStretches', 'nothing']),
  /** The headline. */
  sentence: z.string(),
  /** What else differs than the setup, and what that does; null where it does nothing. */
  conditions: z.array(
    z.strictObject({ what: z.string(), a: z.string(), b: z.string(), matters: z.string().nullable() }),
  ),
  fair: z.boolean(),
  /** Why it is not fair, plain sentences. */
  unfair: z.array(z.string()),
  /** Correlation of passes on the same lane after alignment by position; 0 where they could not be aligned. */
  alike: z.partialRecord(z.enum(AXES), num),
  /** As observed: setup and speed together. */
  axes: z.array(ratioSchema.extend({ axis: z.enum(AXES) })),
  /** Setup alone at unequal speeds: the common band of wavelengths. Null at equal speeds. */
  wavelength: z
    .strictObject({
      bandM: pair.nullable(),
      refused: z.string().nullable(),
      axes: z.array(ratioSchema.extend({ axis: z.enum(AXES) })),
    })
    .nullable(),
  /** By frequency band; only from three passes. */
  bands: z.array(ratioSchema.extend({ axis: z.enum(AXES), label: z.string(), fromHz: num, toHz: num })),
  /** A cost, no test: what a take of this length needs on the common lens. */
  crop: z.strictObject({
    takeS: num,
    a: cropSideSchema,
    b: cropSideSchema,
    ratio: orNull,
    ci95: pair.nullable(),
    sentence: z.string(),
  }),
});

const avoidSchema = z.strictObject({
  fromM: num,
  toM: num,
  shakePx: num,
  /** Over the middle of the lane. */
  timesUsual: num,
  joints: num,
});

/** Several lanes of one floor, each along its length. */
export const lanePlanSchema = z.strictObject({
  floor: z.string().nullable(),
  setup: z.string().nullable(),
  /** False: without travel or speed the places are shares of the pass, 0..1 (in the fields named M). */
  metric: z.boolean(),
  /** Length over which the shake of a place is taken. */
  windowM: num,
  lanes: z.array(
    z.strictObject({
      name: z.string(),
      rank: num,
      runs: z.array(z.string()),
      directions: z.array(z.enum(['out', 'back'])),
      lengthM: num,
      /** Shift of the delivered picture before stabilising, px RMS. */
      shakePx: ranged,
      places: z.strictObject({ atM: z.array(num), shakePx: z.array(num) }),
      joints: z.array(z.strictObject({ atM: num, heightMm: num })),
      avoid: z.array(avoidSchema),
    }),
  ),
  best: z.strictObject({
    /** Null where no lane is clearly better. */
    lane: z.string().nullable(),
    sentence: z.string(),
  }),
  /** The stretch to keep off, in plain words; null where the lanes are even. */
  avoid: z.string().nullable(),
});

export const comparisonSchema = z.strictObject({
  schema: z.literal(COMPARISON_SCHEMA),
  tool: z.strictObject({ version: z.string(), commit: z.string().nullable() }),
  createdAt: z.string(),
  /** What the groups differ in: "setup", "wheels", "speed" ... */
  by: z.string(),
  groups: z.array(z.strictObject({ name: z.string(), runs: z.array(comparedRunSchema) })),
  /** One lens and one delivery for all crops. */
  common: z.strictObject({
    focalLengthMm: orNull,
    sensorWidthMm: orNull,
    words: z.string(),
    delivery: z.strictObject({ widthPx: num, heightPx: num }),
  }),
  /** Standard deviations of ln RMS that the ranges rest on beside the runs themselves. */
  priors: z.strictObject({
    betweenPasses: num,
    betweenLanes: num,
    setupByLane: num,
    degrees: num,
    betweenPassesFrom: z.enum(['assumed', 'log']),
    betweenLanesFrom: z.enum(['assumed', 'log']),
    words: z.string(),
  }),
  pairs: z.array(comparedPairSchema),
  /** The answer in a sentence. */
  sentence: z.string(),
  lanePlan: lanePlanSchema.nullable(),
  warnings: z.array(warningSchema),
});

/** A comparison as its JSON file holds it. */
export type Comparison = z.infer<typeof comparisonSchema>;
export type ComparedRun = z.infer<typeof comparedRunSchema>;
export type ComparedPair = z.infer<typeof comparedPairSchema>;
export type ComparedRatio = z.infer<typeof ratioSchema>;
export type LanePlan = z.infer<typeof lanePlanSchema>;

/** The comparison as JSON Schema (draft 2020-12), made from the zod schema. */
export function comparisonJsonSchema(): unknown {
  return z.toJSONSchema(comparisonSchema);
}

/** Checks a value against the schema and gives it back typed. @throws ZodError with the path of every fault */
export function parseComparison(value: unknown): Comparison {
  return comparisonSchema.parse(value);
}
