/** The part of the run document on the motion of the camera: shake of each axis, what tells turning from travel, what was corrected. */
import { z } from 'zod';
import { angularFields, translationalFields } from './axis-schema.js';
import {
  angularShareSchema,
  changeSchema,
  distortionFields,
  readoutFields,
  statusSchema,
  unreliableSchema,
  unsplitCauseSchema,
} from './shared-schema.js';

const num = z.number();
const orNull = num.nullable();
const interval = z.tuple([num, num]);

const DOMINANT_SAYS =
  'Frequency at which the axis shakes most, Hz; null when noise alone could look like it, or no figure stands.';
const NO_FIGURE = 'null where no figure stands';

export const axisRmsSchema = z.strictObject({
  status: statusSchema,
  rmsDeg: orNull.describe(`Shake in the vibration band with the noise taken off, degrees RMS; ${NO_FIGURE}.`),
  peakToPeakDeg: orNull.describe(`From the 0.5 to the 99.5 percentile of the shake, degrees; ${NO_FIGURE}.`),
  maximumDeg: orNull.describe(`Largest size of the shake, degrees, without sign; ${NO_FIGURE}.`),
  noiseDeg: orNull.describe('Noise of the measurement in the band, degrees RMS; null when not observable.'),
  ci95Deg: interval.nullable().describe(`95 % interval of rmsDeg, degrees; ${NO_FIGURE}.`),
  belowDeg: orNull.describe('"Below X": the bound, degrees RMS, when status is below; else null.'),
  dominantHz: orNull.describe(DOMINANT_SAYS),
});

export const axisTranslationSchema = z.strictObject({
  status: statusSchema,
  rms: orNull.describe(
    `Shake in the vibration band with the noise taken off, RMS in translational.unit; ${NO_FIGURE}.`,
  ),
  peakToPeak: orNull.describe(`From the 0.5 to the 99.5 percentile of the shake, same unit; ${NO_FIGURE}.`),
  maximum: orNull.describe(`Largest size of the shake, same unit, without sign; ${NO_FIGURE}.`),
  noise: orNull.describe('Noise of the measurement in the band, RMS, same unit; null when not observable.'),
  ci95: interval.nullable().describe(`95 % interval of rms, same unit; ${NO_FIGURE}.`),
  below: orNull.describe('"Below X": the bound, RMS, same unit, when status is below; else null.'),
  dominantHz: orNull.describe(DOMINANT_SAYS),
});

/** How well the clip tells translation from rotation. */
export const separationSchema = z.strictObject({
  panLateralCorrelation: orNull.describe(
    'Correlation of the errors of pan and lateral, -1..1; null for a camera that only turned.',
  ),
  tiltVerticalCorrelation: orNull.describe(
    'Correlation of the errors of tilt and vertical, -1..1; null for a camera that only turned.',
  ),
  information: z
    .strictObject({
      angleUnit: z.literal('deg').describe('Unit of the angles: deg.'),
      translationUnit: z
        .enum(['mm', 'percentOfDepth'])
        .describe(
          'Unit of the translations: mm, or percentOfDepth (per cent of the median distance of the scene).',
        ),
      everyFrames: num.describe(
        'Steps in samples from one matrix to the next, the first being that of sample 0.',
      ),
      lowerTriangles: z
        .array(z.array(num))
        .describe(
          'The lower triangle of each matrix, row by row, 21 numbers, one over the product of the two units.',
        ),
    })
    .describe(
      'Fisher information of the pose of every everyFrames-th sample, a 6x6 matrix with axes in the order pan, tilt, roll, lateral, vertical, axial. Its inverse is the covariance that the noise floors are made from.',
    ),
  unsplit: z
    .strictObject({
      cause: unsplitCauseSchema,
      ifAllAngular: z
        .strictObject({
          panDeg: num.describe('Upper bound of pan, degrees RMS (97.5 %).'),
          tiltDeg: num.describe('Upper bound of tilt, degrees RMS (97.5 %).'),
        })
        .describe('Bounds if all of the shake were turning.'),
      ifAllTranslation: z
        .strictObject({
          lateral: orNull.describe(
            'Upper bound of lateral, RMS in translational.unit (97.5 %); null for none.',
          ),
          vertical: orNull.describe(
            'Upper bound of vertical, RMS in translational.unit (97.5 %); null for none.',
          ),
        })
        .describe('Bounds if all of the shake were translation.'),
      change: z.array(changeSchema).describe('What to change so that the next pass tells them apart.'),
    })
    .nullable()
    .describe(
      'Where the two could not be told apart: pan and tilt of this document are then pan-equivalent and tilt-equivalent (they take in lateral and vertical motion as turn). Null where they could.',
    ),
});

export const motionSchema = z.strictObject({
  bandHz: interval.describe('Vibration band that every RMS holds for, from and to, Hz.'),
  mode: z
    .enum(['full', 'rotationOnly'])
    .describe(
      'full: turning and translation were solved for; rotationOnly: the camera only turned, as far as can be seen.',
    ),
  angular: z
    .strictObject({
      ...angularFields(axisRmsSchema, 'its shake, degrees'),
      rmsDeg: orNull.describe(
        'Root of the summed squares of the RMS of pan, tilt and roll, as far as they stand, degrees; null when none stands.',
      ),
    })
    .describe('Shake by turning: one warp of the picture takes it out.'),
  translational: z
    .strictObject({
      unit: z
        .enum(['mm', 'percentOfDepth'])
        .describe(
          'Unit of the shake: mm, or percentOfDepth (per cent of the median distance of the scene) without a scale.',
        ),
      observable: z
        .enum(['yes', 'flagged', 'no'])
        .describe('Whether translation can be told from turning: yes, flagged (with doubt) or no.'),
      reason: z
        .string()
        .nullable()
        .describe('Why it is flagged or cannot be told, a plain sentence; null for yes.'),
      parallaxP: orNull.describe(
        'Strongest parallax between two frames over the noise of the points; 1.3 to 1.5 for a camera that only turns. Null when unknown.',
      ),
      ...translationalFields(axisTranslationSchema, 'its shake, in unit'),
      medianDepthM: orNull.describe('Median distance of what was followed, m; null without a scale.'),
      travelM: orNull.describe('Distance travelled that sets the scale, m; null without one.'),
    })
    .describe('Shake by travel: near and far move differently (parallax), so no warp takes all of it out.'),
  separation: separationSchema.describe('How well the clip tells translation from turning.'),
  readout: z
    .strictObject({
      source: readoutFields.source,
      readoutMs: orNull.describe(
        'Time from the first row of a frame to one past the last, ms; null when not known.',
      ),
      ci95Ms: interval
        .nullable()
        .describe(
          '95 % interval of a readout that was looked for, ms; null when it was given or not looked for.',
        ),
      state: readoutFields.state,
      costFall: readoutFields.costFall,
    })
    .describe(
      'A sensor that is read row by row: what is known of it, and whether the figures are freed of it.',
    ),
  distortion: z
    .strictObject(distortionFields)
    .describe(
      'A lens that bends straight lines: what is known of it, and whether the figures are freed of it.',
    ),
  unreliable: unreliableSchema,
  angularShare: angularShareSchema,
});
