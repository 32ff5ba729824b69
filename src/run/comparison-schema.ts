/**
 * What a comparison of runs says, schema "trundle-comparison/1": setups against each other with the range of each ratio, whether the
 * comparison is fair, and the lanes of a floor on a plan.
 */
import { z } from 'zod';
import { AXES } from './axes.js';
import { angularFields } from './axis-schema.js';
import { lanePlanSchema } from './lane-plan-schema.js';
import { AXIS_NAMES_SAY, GRADE_SAYS, toolSchema } from './shared-schema.js';
import { warningSchema } from './warning-schema.js';

/** Format and version of a comparison. */
export const COMPARISON_SCHEMA = 'trundle-comparison/1';

const num = z.number();
const orNull = num.nullable();
const pair = z.tuple([num, num]);

/** One run that was compared. */
export const comparedRunSchema = z.strictObject({
  place: z.string().describe('Where it came from: a folder, or its number in the log.'),
  clip: z.string().describe('Name of the clip, without folders.'),
  createdAt: z.string().describe('When the clip was measured, ISO 8601.'),
  lane: z.string().describe('The strip of floor that was rolled over.'),
  direction: z
    .enum(['out', 'back'])
    .nullable()
    .describe('Along the lane: out as it is counted, back against that; null when not told.'),
  passNumber: orNull.describe('Number of the pass; null when not told.'),
  speedMps: orNull.describe('Mean speed, m/s; null when not known.'),
  travelM: orNull.describe('Distance travelled, m; null when not known.'),
  durationS: num.describe('Length of what was measured, s.'),
  rmsDeg: z
    .strictObject(angularFields(orNull, 'its shake, noise taken off, degrees RMS; null below the noise'))
    .describe('Shake by turning, in the band of the comparison.'),
  leftOut: z
    .boolean()
    .describe(
      'True when no pair counts the run: its lane was not rolled with both sides, others were. It is then in no median either.',
    ),
  cropPercent: num.describe('Crop of this pass on the common lens, per cent of the width.'),
  grade: z.enum(['pass', 'marginal', 'fail', 'unmeasurable']).describe(`Verdict on the run: ${GRADE_SAYS}`),
});

/** A ratio of RMS, A over B: below 1 A is smoother. */
export const ratioSchema = z.strictObject({
  aRms: orNull.describe(
    'Shake of A: mean over lanes (in the logarithm), noise taken off, RMS in unit; null below the noise.',
  ),
  bRms: orNull.describe('Shake of B, as aRms; null below the noise.'),
  unit: z.string().describe('Unit of aRms and bRms.'),
  ratio: orNull.describe(
    'Shake of A over shake of B: below 1 A is smoother; null where nothing was compared, and where one side lies under its noise: there is no ratio then, but says may still be aSmoother or bSmoother by the bound.',
  ),
  ci95: pair.nullable().describe('95 % interval of the ratio; null where nothing was compared.'),
  degrees: orNull.describe('Degrees of freedom behind the interval; null where nothing was compared.'),
  p: orNull.describe(
    'Two-sided p-value of this question alone, 0..1; null where ratio is null, also where the bound of a side under its noise decides.',
  ),
  pHolm: orNull.describe(
    'The p-value corrected for the whole family of questions (Holm), 0..1; null where ratio is null.',
  ),
  aSmoother: orNull.describe('Chance that A is the smoother one, 0..1; null where nothing was compared.'),
  says: z
    .enum(['aSmoother', 'bSmoother', 'noClearDifference', 'sameWithin10', 'notCompared'])
    .describe(
      'The answer: aSmoother, bSmoother, noClearDifference, sameWithin10 (the same within 10 %) or notCompared. With a null ratio it is aSmoother or bSmoother where that side lies under its noise and the bound of its shake decides, else notCompared.',
    ),
  sentence: z
    .string()
    .describe('The answer in plain words with the figures in them; says why where nothing was compared.'),
  needed: z
    .strictObject({
      of: z.enum(['passes', 'lanes']).describe('What more is needed of: passes (on each side) or lanes.'),
      count: num.describe('How many of them.'),
    })
    .nullable()
    .describe(
      'How many passes on each side, or lanes, would show a difference of 20 %; null where more of them do not help.',
    ),
});

const axisRatioSchema = ratioSchema.extend({
  axis: z.enum(AXES).describe(`The axis that is compared: ${AXIS_NAMES_SAY}.`),
});

const cropSideSchema = z.strictObject({
  medianPercent: orNull.describe(
    'Crop that half of such takes need, per cent of the width; null where it cannot be told.',
  ),
  upper95Percent: orNull.describe(
    'Crop that 95 of 100 such takes stay below, per cent of the width; null where it cannot be told.',
  ),
});

/** Two setups against each other. */
export const comparedPairSchema = z.strictObject({
  a: z.string().describe('Name of the first group, A.'),
  b: z.string().describe('Name of the second group, B.'),
  design: z
    .enum(['oneLane', 'pairedLanes', 'ownLanes'])
    .describe(
      'oneLane: one lane with both; pairedLanes: several lanes, each with both; ownLanes: no lane has both.',
    ),
  lanes: z.array(z.string()).describe('The lanes that were compared on.'),
  passes: z
    .strictObject({ a: num.describe('Passes of A.'), b: num.describe('Passes of B.') })
    .describe('How many passes were compared.'),
  claim: z
    .enum(['thisLane', 'floorsLikeThese', 'theseStretches', 'nothing'])
    .describe(
      'How far the result reaches: thisLane, floorsLikeThese, theseStretches (the stretches of floor as rolled, where lanes or floors are compared) or nothing.',
    ),
  sentence: z.string().describe('The headline, in plain words.'),
  conditions: z
    .array(
      z.strictObject({
        what: z.string().describe('What differs.'),
        a: z.string().describe('What it was for A, in words.'),
        b: z.string().describe('What it was for B, in words.'),
        matters: z
          .string()
          .nullable()
          .describe('What that does to the comparison; null where it does nothing.'),
      }),
    )
    .describe('What else differs than the setup.'),
  fair: z
    .boolean()
    .describe('False when something else than the setup may make the difference; unfair says what.'),
  unfair: z.array(z.string()).describe('Why it is not fair, plain sentences.'),
  alike: z
    .partialRecord(z.enum(AXES), num)
    .describe(
      'Correlation by axis, -1..1, of passes on the same lane after alignment by position; 0 where they could not be aligned.',
    ),
  axes: z.array(axisRatioSchema).describe('As observed: setup and speed together.'),
  wavelength: z
    .strictObject({
      bandM: pair
        .nullable()
        .describe('Shortest and longest wavelength that all passes see, m; null when refused.'),
      refused: z
        .string()
        .nullable()
        .describe('Why there is no such band, a plain sentence; null when there is one.'),
      axes: z.array(axisRatioSchema).describe('The ratios in that band.'),
    })
    .nullable()
    .describe('Setup alone at unequal speeds: the common band of wavelengths. Null at equal speeds.'),
  bands: z
    .array(
      axisRatioSchema.extend({
        label: z.string().describe('Nominal name of the band, such as "4 Hz".'),
        fromHz: num.describe('Lower edge of the band, Hz.'),
        toHz: num.describe('Upper edge of the band, Hz.'),
      }),
    )
    .describe('By frequency band (octaves of IEC 61260-1); only from three passes.'),
  crop: z
    .strictObject({
      takeS: num.describe('Length of the take, s.'),
      a: cropSideSchema.describe('What such a take needs under A.'),
      b: cropSideSchema.describe('What such a take needs under B.'),
      ratio: orNull.describe('Crop of A over crop of B; null where it cannot be told.'),
      ci95: pair.nullable().describe('95 % interval of that ratio; null where it cannot be told.'),
      sentence: z.string().describe('The answer in plain words.'),
    })
    .describe('A cost, no test: what a take of this length needs on the common lens.'),
});

const spreadFrom = z.enum(['assumed', 'log']);

export const comparisonSchema = z
  .strictObject({
    schema: z.literal(COMPARISON_SCHEMA).describe('Name and version of this format.'),
    tool: toolSchema.describe('The program that wrote the document.'),
    createdAt: z.string().describe('When the comparison was made, ISO 8601, UTC.'),
    by: z.string().describe('What the groups differ in: "setup", "wheels", "speed" ...'),
    groups: z
      .array(
        z.strictObject({
          name: z.string().describe('Name of the group.'),
          runs: z.array(comparedRunSchema).describe('The runs of the group.'),
        }),
      )
      .describe('What is compared: runs by setup, or by what else they differ in.'),
    common: z
      .strictObject({
        focalLengthMm: orNull.describe('Focal length, mm; null when it is not known in mm.'),
        sensorWidthMm: orNull.describe('Width of the sensor, mm; null when not known.'),
        words: z.string().describe('Lens and delivery in words.'),
        delivery: z
          .strictObject({
            widthPx: num.describe('Width of the delivered picture, px.'),
            heightPx: num.describe('Height of the delivered picture, px.'),
          })
          .describe('The picture to deliver.'),
      })
      .describe('One lens and one delivery for all crops.'),
    priors: z
      .strictObject({
        betweenPasses: num.describe('Between passes of one setup on one lane.'),
        betweenLanes: num.describe('Between lanes of one floor.'),
        setupByLane: num.describe("Of a setup's effect from lane to lane."),
        degrees: num.describe('Degrees of freedom that each is worth.'),
        betweenPassesFrom: spreadFrom.describe(
          'Where betweenPasses comes from: assumed, or repeats in the log.',
        ),
        betweenLanesFrom: spreadFrom.describe(
          'Where betweenLanes comes from: assumed, or repeats in the log.',
        ),
        words: z.string().describe('The same in words.'),
      })
      .describe('Standard deviations of ln RMS that the ranges rest on beside the runs themselves.'),
    pairs: z.array(comparedPairSchema).describe('Each pair of groups against each other.'),
    sentence: z.string().describe('The answer in a sentence.'),
    lanePlan: lanePlanSchema
      .nullable()
      .describe(
        'The lanes of the floor, each along its length; null with fewer than two lanes that can be placed.',
      ),
    warnings: z.array(warningSchema).describe('What to know about this comparison.'),
  })
  .describe(
    'What runs say when they are compared: a ratio of shake with its range for each question. Unknown values are null.',
  );

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
