/** The part of the run document on a motion log: how well it agrees with the pictures, and what it shows beyond them. */
import { z } from 'zod';
import { angularFields } from './axis-schema.js';
import { densitySchema } from './shared-schema.js';

const num = z.number();
const orNull = num.nullable();
const interval = z.tuple([num, num]);

/** One axis of a motion log against the pictures. */
const loggedAxisSchema = z
  .strictObject({
    correlation: num.describe('Correlation of log and pictures on this axis, -1..1.'),
    gain: orNull.describe('Log over picture, no unit; null when they hang together too little to tell.'),
    gainCi95: interval.nullable().describe('95 % interval of the gain; null without one.'),
    rmsVideoDeg: num.describe('Shake by the pictures, noise taken off, degrees RMS.'),
    rmsLogDeg: num.describe('Shake by the log, noise taken off, degrees RMS.'),
    rmsDifferenceDeg: num.describe('Pictures minus log, degrees RMS, noise of both included.'),
    agrees: z.boolean().describe('True when they differ by no more than the noise of both allows.'),
    noiseLogDeg: num.describe("The log's noise as an angle in the band, degrees RMS."),
  })
  .nullable();

const beyondNyquistAxisSchema = z
  .strictObject({
    rmsDeg: orNull.describe(
      "Shake in the band, degrees RMS; null when it cannot be told from the log's noise: then only the bound stands.",
    ),
    belowDeg: orNull.describe(
      '"Below X": the bound, degrees RMS, when rmsDeg is null; null when rmsDeg stands.',
    ),
    foldedDeg: orNull.describe(
      'Part that shows in the pictures at a false, lower frequency, degrees RMS; null with rmsDeg.',
    ),
    blurredDeg: orNull.describe('Part that blurs within the exposure, degrees RMS; null with rmsDeg.'),
    dominantHz: orNull.describe(
      'Frequency at which it is strongest, Hz; null when noise alone could look like it.',
    ),
    series: densitySchema.describe("Power spectral density of the angle, the log's noise included."),
  })
  .nullable();

export const motionLogSchema = z.strictObject({
  file: z.string().describe('Name of the motion log, without folders.'),
  sampleRateHz: num.describe('Samples of the log per second.'),
  aligned: z.boolean().describe('False: nothing of the log was used; reason says why.'),
  reason: z
    .string()
    .nullable()
    .describe('Why it was not aligned, or which of its axes are not what they say; null when all is well.'),
  correlation: orNull.describe(
    'Height of the correlation peak that the alignment rests on, -1..1; null when none was sought.',
  ),
  offsetS: orNull.describe(
    "The log's clock minus the clip's, s, at the middle of the clip; null when not aligned.",
  ),
  offsetSdS: orNull.describe('Standard deviation of offsetS, s; null when not aligned.'),
  clockRatio: orNull.describe(
    'Seconds of the log in a second of the clip; null when it cannot be told from 1.',
  ),
  comparedS: interval
    .nullable()
    .describe(
      'First and last frame that was compared, seconds from the start of the clip; null when none was.',
    ),
  axes: z
    .strictObject(
      angularFields(loggedAxisSchema, 'the log against the pictures; null where they were not compared'),
    )
    .describe('The log against the pictures, in the band that both see.'),
  beyondNyquist: z
    .strictObject({
      bandHz: interval.describe('Band that the log shows there, from half the frame rate up, Hz.'),
      axes: z
        .strictObject(
          angularFields(
            beyondNyquistAxisSchema,
            'what the log shows there; null where it does not have the axis',
          ),
        )
        .describe('The shake of each axis in that band.'),
    })
    .nullable()
    .describe(
      'What the log shows above half the frame rate; null when it is not the better instrument there.',
    ),
});
