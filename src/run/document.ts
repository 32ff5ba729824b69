/**
 * The run document, schema "trundle-run/1": what a measurement says, as JSON.
 *
 * The zod schema is the source; JSON Schema is exported from it, with what each field means, its unit and its null. Unknown values are
 * null, never NaN. Field names carry their unit.
 */
import { z } from 'zod';
import { clipSchema, trackingSchema } from './clip-schema.js';
import { motionLogSchema } from './motion-log-schema.js';
import { type axisRmsSchema, type axisTranslationSchema, motionSchema } from './motion-schema.js';
import { passSheetSchema } from './pass-schema.js';
import { UNITS } from './quantities.js';
import { lensDistortionSchema, rigSchema } from './rig.js';
import { type rangedSchema, toolSchema } from './shared-schema.js';
import type { peakSchema, sourceSchema, spectrogramSchema, thirdOctaveSchema } from './spectrum-schema.js';
import { spectrumSchema } from './spectrum-schema.js';
import { stabiliseSchema } from './stabilise-schema.js';
import { surfaceSchema } from './surface-schema.js';
import { type predictedOutcomeSchema, verdictSchema } from './verdict-schema.js';
import { warningSchema } from './warning-schema.js';

export const RUN_SCHEMA = 'trundle-run/1';

const num = z.number();

export const runSchema = z
  .strictObject({
    schema: z.literal(RUN_SCHEMA).describe('Name and version of this format.'),
    tool: toolSchema.describe('The program that wrote the document.'),
    createdAt: z.string().describe('When the clip was measured, ISO 8601, UTC.'),
    units: z
      .enum(UNITS)
      .default('metric')
      .describe(
        'How lengths, heights and speeds are shown to people: metric, imperial or both; every stored value is metric whatever stands here.',
      ),
    clip: clipSchema.describe('The clip, as its file tells it.'),
    rig: rigSchema
      .extend({
        lensDistortion: lensDistortionSchema
          .optional()
          .describe(
            "Lens distortion as given, by Brown and Conrady's model, on points over the focal length.",
          ),
        assumed: z
          .array(
            z.strictObject({
              name: z.string().describe('Name of the figure that was not given.'),
              value: z.string().describe('What was taken in its place, in words.'),
              matters: z.string().describe('How much that matters, in words.'),
            }),
          )
          .describe('Figures that were not given, what was taken in their place, and how much that matters.'),
      })
      .describe('Lens, sensor and dolly as the crew gave them, and what was assumed.'),
    pass: passSheetSchema.describe('What the crew wrote on the sheet of this pass.'),
    delivery: z
      .strictObject({
        name: z
          .string()
          .nullable()
          .describe('Name of the preset that it was taken from; null when it goes by no name.'),
        widthPx: num.describe('Width of the delivered picture, px.'),
        heightPx: num.describe('Height of the delivered picture, px.'),
        maxCropPercent: num.describe('Most crop that is accepted for stabilising, per cent of the width.'),
        maxResidualPx: num.describe('Most shake that may be left after stabilising, px RMS of the delivery.'),
        viewingDistanceHeights: num.describe(
          'How far away the picture is watched, in heights of the 16:9 screen.',
        ),
      })
      .describe('The picture to deliver, and the limits that the verdict is given against.'),
    tracking: trackingSchema.describe('How well the clip could be followed.'),
    motion: motionSchema.describe('The shake of the camera on each axis.'),
    motionLog: motionLogSchema
      .nullable()
      .describe('The motion log against the pictures; null when no motion log was given.'),
    spectrum: spectrumSchema.describe('Frequencies of the shake, and what shakes.'),
    stabilise: stabiliseSchema.describe('What stabilising costs in crop, what it leaves, and what to set.'),
    surface: surfaceSchema.describe('The floor or rail that was rolled over.'),
    verdict: verdictSchema.describe('Whether the pass will do, why, and what to do.'),
    warnings: z.array(warningSchema).describe('What to know about this measurement.'),
  })
  .describe('What one measured pass says: every figure of the report. Unknown values are null.');

export type RunDocument = z.infer<typeof runSchema>;
/** A figure that was not given: what was taken in its place, and how much that matters. */
export type Assumption = RunDocument['rig']['assumed'][number];
export type ClipSection = z.infer<typeof clipSchema>;
export type TrackingSection = z.infer<typeof trackingSchema>;
export type MotionSection = z.infer<typeof motionSchema>;
export type MotionLogSection = z.infer<typeof motionLogSchema>;
export type SpectrumSection = z.infer<typeof spectrumSchema>;
export type Peak = z.infer<typeof peakSchema>;
export type ShakeSourceSection = z.infer<typeof sourceSchema>;
export type ThirdOctave = z.infer<typeof thirdOctaveSchema>;
export type Spectrogram = z.infer<typeof spectrogramSchema>;
export type StabiliseSection = z.infer<typeof stabiliseSchema>;
export type VerdictSection = z.infer<typeof verdictSchema>;
/** What a pass would cost and leave after a change. */
export type PredictedOutcome = z.infer<typeof predictedOutcomeSchema>;
/** A value and the ends of its 95 % range. */
export type Ranged = z.infer<typeof rangedSchema>;
export type Warning = z.infer<typeof warningSchema>;
export type AxisRms = z.infer<typeof axisRmsSchema>;
export type AxisTranslation = z.infer<typeof axisTranslationSchema>;

/** Checks a value against the schema and gives it back typed. @throws ZodError with the path of every fault */
export function parseRun(value: unknown): RunDocument {
  return runSchema.parse(value);
}

/** The run document as JSON Schema (draft 2020-12), made from the zod schema. */
export function runJsonSchema(): unknown {
  return z.toJSONSchema(runSchema);
}
