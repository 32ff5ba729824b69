/**
 * What a measured pass would cost and leave under other conditions, schema "trundle-what-if/1": the pass as measured beside the
 * pass as asked for, and tables over lenses, speeds, deliveries, smoothings and wheelbases.
 */
import { z } from 'zod';
import { runSchema } from './document.js';
import { passSheetSchema } from './pass-schema.js';
import { UNITS } from './quantities.js';
import { COVERABLE_SAYS, rangedSchema, toolSchema } from './shared-schema.js';
import { predictedOutcomeSchema, verdictSchema } from './verdict-schema.js';

/** Format and version of an answer. */
export const WHAT_IF_SCHEMA = 'trundle-what-if/1';

const num = z.number();
const orNull = num.nullable();

/** One case of a table: what it would cost and leave, or why nobody can tell. */
const rowSchema = z.strictObject({
  measured: z.boolean().describe('True for the case in which the pass was shot.'),
  asked: z
    .boolean()
    .describe('True for the case that was asked for; for that of the pass where nothing was.'),
  outcome: predictedOutcomeSchema
    .nullable()
    .describe('What it would cost and leave; null when it cannot be foretold.'),
  refused: z.string().nullable().describe('Why not, a plain sentence; null when it can.'),
});

/** The pass under one set of conditions; null where a figure is not known. */
export const whatIfStateSchema = z.strictObject({
  focalLengthMm: orNull.describe('Focal length, mm; null when not known in mm.'),
  sensorWidthMm: orNull.describe('Width of the sensor, mm; null when not known.'),
  speedMps: orNull.describe('Mean speed, m/s; null when not known.'),
  wheelbaseM: orNull.describe('From the rear to the front axle, m; null when not known.'),
  wheelDiameterM: orNull.describe('Diameter of the wheels, m; null when not known.'),
  shutterAngleDeg: orNull.describe('Shutter angle, degrees; null when not known.'),
  mode: z
    .enum(['keepMove', 'holdStill', 'smoothest'])
    .describe(
      'keepMove: keep the move and lose its shake; holdStill: stand as if locked off; smoothest: the smoothest path that the crop allows.',
    ),
  smoothingS: orNull.describe(
    'Smoothing, s: one over the frequency below which motion is kept; null where the mode has no smoothing of its own.',
  ),
  delivery: runSchema.shape.delivery.describe('The picture to deliver, and its limits.'),
  cropPercent: rangedSchema.describe(
    'Crop, per cent of the width; low and high are the ends that decide: what the prediction leaves open, the measuring error and a repeat of the move.',
  ),
  cropPx: num.describe('Columns of the delivery that the crop takes, px, left and right together.'),
  zoom: num.describe('Zoom that shows no border in any frame; 1 is none.'),
  coverable: z.boolean().describe(COVERABLE_SAYS),
  residualPx: rangedSchema
    .nullable()
    .describe(
      'Shake left, px RMS of the delivery; low and high take in what the prediction leaves open and the measuring error. Null when not known.',
    ),
  residualAtMost: z.boolean().describe('True when residualPx is an upper bound.'),
  blurPx: rangedSchema
    .nullable()
    .describe('How far blur pulses, px of the delivery; null where it is not known.'),
  longestLens: z
    .strictObject({
      factor: num.describe('Its focal length over the one of this state.'),
      focalLengthMm: orNull.describe(
        'Its focal length, mm; null when the one of this state is not known in mm.',
      ),
      limitedBy: z
        .enum(['crop', 'residual'])
        .nullable()
        .describe('Which limit a longer lens breaks: crop or residual (shake left); null when none does.'),
    })
    .nullable()
    .describe('The longest lens for which crop and shake left stay within the limits; null when none does.'),
  framing: z
    .strictObject({
      overscanPercent: num.describe('How much wider than the wanted picture, per cent of its width.'),
      overscanPx: num.describe('The same in columns of the delivery, px, left and right together.'),
      focalLengthMm: orNull.describe('Focal length to use for that, mm; null when not known in mm.'),
    })
    .nullable()
    .describe(
      'How much wider to frame for a repeat of the move; null when more than half of the frame would go.',
    ),
  take: z
    .strictObject({
      takeS: num.describe('Length of the take, s.'),
      medianPercent: orNull.describe(
        'Crop that half of such takes need, per cent of the width; null when not known.',
      ),
      upper95Percent: orNull.describe(
        'Crop that 95 of 100 such takes stay below, per cent of the width; null when not known.',
      ),
      atLeast: z.boolean().describe('True where hits are rare: the bound then stands for "at least".'),
      refused: z.string().nullable().describe('Why there is no bound, in words; null when there is one.'),
    })
    .nullable()
    .describe('What a take elsewhere on the same kind of floor needs; null when it cannot be told.'),
  verdict: verdictSchema.describe('Whether it would do, why, and what to do.'),
});

/** What the answer says, without where the run lies. */
export const whatIfAnswerSchema = z.strictObject({
  asked: z
    .array(
      z.strictObject({
        what: z.string().describe('What was asked to be different.'),
        from: z.string().describe('How it was in the pass, in words.'),
        to: z.string().describe('How it would be, in words.'),
      }),
    )
    .describe('What was asked to be different, in words.'),
  measured: whatIfStateSchema.describe('The pass as measured.'),
  then: whatIfStateSchema
    .nullable()
    .describe('The pass as asked for; null when nothing was asked, or when it cannot be foretold.'),
  adviceNote: z
    .string()
    .nullable()
    .describe('What the advice leaves out, a plain sentence; null where it leaves out nothing.'),
  refused: z.string().nullable().describe('Why it cannot be foretold, a plain sentence; null otherwise.'),
  assumes: z.array(z.string()).describe('What is taken for granted, plain sentences.'),
  tables: z
    .strictObject({
      focal: z
        .array(
          rowSchema.extend({
            focalLengthMm: orNull.describe('Focal length, mm; null when not known in mm.'),
            factor: num.describe('Focal length over the one used.'),
          }),
        )
        .describe('Other lenses.'),
      speed: z
        .array(rowSchema.extend({ speedMps: num.describe('Mean speed, m/s.') }))
        .describe('Other speeds.'),
      speedRefused: z
        .string()
        .nullable()
        .describe('Why there is no table over speeds, a plain sentence; null when there is one.'),
      deliveries: z
        .array(
          rowSchema.extend({
            delivery: runSchema.shape.delivery.describe('The picture to deliver, and its limits.'),
          }),
        )
        .describe('Other deliveries.'),
      deliveriesNote: z
        .string()
        .nullable()
        .describe(
          'What another shape of the picture does to its crop; null where all have the shape of the clip.',
        ),
      smoothing: z
        .array(
          rowSchema.extend({
            smoothingS: num.describe('Smoothing, s: one over the frequency below which motion is kept.'),
          }),
        )
        .describe('Other smoothings; empty for a mode that has no smoothing of its own.'),
      wheelbase: z
        .array(rowSchema.extend({ wheelbaseM: num.describe('From the rear to the front axle, m.') }))
        .describe('Other wheelbases.'),
      wheelbaseRefused: z
        .string()
        .nullable()
        .describe('Why there is no table over wheelbases, a plain sentence; null when there is one.'),
    })
    .describe(
      'One thing changed at a time, all else as asked for; as measured where nothing was, or where that cannot be foretold.',
    ),
});

export const whatIfSchema = z
  .strictObject({
    schema: z.literal(WHAT_IF_SCHEMA).describe('Name and version of this format.'),
    tool: toolSchema.describe('The program that wrote the document.'),
    run: z
      .strictObject({
        place: z.string().describe('Where it came from: a folder, or its number in the log.'),
        clip: z.string().describe('Name of the clip, without folders.'),
        sha256: z.string().describe('SHA-256 checksum of the clip, hexadecimal.'),
        createdAt: z.string().describe('When the clip was measured, ISO 8601.'),
        units: z
          .enum(UNITS)
          .default('metric')
          .describe(
            'How lengths and speeds of the answer are shown to people: metric, imperial or both; values are SI.',
          ),
        pass: passSheetSchema.describe('What the crew wrote on the sheet of the pass.'),
      })
      .describe('The run that was asked.'),
    ...whatIfAnswerSchema.shape,
  })
  .describe('What a measured pass would cost and leave under other conditions. Unknown values are null.');

export type WhatIfState = z.infer<typeof whatIfStateSchema>;
/** What would be different, as computed from a pass. */
export type WhatIfAnswer = z.infer<typeof whatIfAnswerSchema>;
/** An answer as its JSON file holds it. */
export type WhatIfDocument = z.infer<typeof whatIfSchema>;
/** A row of one of the tables. */
export type WhatIfRow = z.infer<typeof rowSchema>;

/** Checks a value against the schema and gives it back typed. @throws ZodError with the path of every fault */
export function parseWhatIf(value: unknown): WhatIfDocument {
  return whatIfSchema.parse(value);
}
