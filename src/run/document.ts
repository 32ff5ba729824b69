/**
 * The run document, schema "trundle-run/1": what a measurement says, as JSON.
 *
 * The zod schema is the source; JSON Schema is exported from it. Unknown values are null, never NaN.
 * Field names carry their unit.
 */
import { z } from 'zod';
import { AXES } from './axes.js';
import { passSheetSchema } from './pass-schema.js';
import { UNITS } from './quantities.js';
import { lensDistortionSchema, rigSchema } from './rig.js';
import type { peakSchema, sourceSchema, spectrogramSchema, thirdOctaveSchema } from './spectrum-schema.js';
import { spectrumSchema } from './spectrum-schema.js';
import { stabiliseSchema } from './stabilise-schema.js';
import { surfaceSchema } from './surface-schema.js';
import { warningSchema } from './warning-schema.js';

export const RUN_SCHEMA = 'trundle-run/1';

const num = z.number();
const orNull = num.nullable();
const interval = z.tuple([num, num]);
const series = z.array(num);

/** How far a figure may be trusted: a value, a bound, or nothing. */
const statusSchema = z.enum(['value', 'wide', 'below', 'notObservable']);

/** True for an axis whose figure stands, if with a wide interval. */
export function hasFigure(status: z.infer<typeof statusSchema>): boolean {
  return status === 'value' || status === 'wide';
}

export const axisRmsSchema = z.strictObject({
  /** value: rms stands; wide: rms with a wide interval; below: only the bound stands; notObservable: nothing stands. */
  status: statusSchema,
  rmsDeg: orNull,
  peakToPeakDeg: orNull,
  maximumDeg: orNull,
  noiseDeg: orNull,
  ci95Deg: interval.nullable(),
  /** "Below X": the bound, when status is below. */
  belowDeg: orNull,
  dominantHz: orNull,
});

export const axisTranslationSchema = z.strictObject({
  status: statusSchema,
  rms: orNull,
  peakToPeak: orNull,
  maximum: orNull,
  noise: orNull,
  ci95: interval.nullable(),
  below: orNull,
  dominantHz: orNull,
});

const seriesSchema = z.strictObject({ freqHz: series, psd: series, unit: z.string() });

export const clipSchema = z.strictObject({
  file: z.string(),
  sha256: z.string(),
  codec: z.string(),
  pixelFormat: z.string(),
  bitDepth: num,
  widthPx: num,
  heightPx: num,
  rotationDeg: num,
  pixelAspect: num,
  fps: num,
  fpsFraction: z.string(),
  variableRate: z.boolean(),
  interlaced: z.boolean(),
  interCoded: z.boolean().nullable(),
  colourTransfer: z.string().nullable(),
  hasAudio: z.boolean(),
  frameCount: num,
  durationS: num,
  rangeS: interval,
  timecodeStart: z.string().nullable(),
});

export const trackingSchema = z.strictObject({
  analysisWidthPx: num,
  analysisHeightPx: num,
  featuresMedian: num,
  inlierShare: num,
  /** Share of the observations that were refined by affine templates, 0..1: those of a move that changes scale. */
  refinedShare: num,
  noisePx: orNull,
  coverage: num,
  rejectedFrames: num,
  warnings: z.array(warningSchema),
});

const changeSchema = z.strictObject({ code: z.string(), text: z.string() });

/** How well the clip tells translation from rotation. */
export const separationSchema = z.strictObject({
  /** Correlation of the errors, -1..1; null for a camera that only turned. */
  panLateralCorrelation: orNull,
  tiltVerticalCorrelation: orNull,
  /**
   * Fisher information of the pose of every `everyFrames`-th sample: the lower triangle of the 6x6 matrix, row by row
   * (21 numbers), axes in the order pan, tilt, roll, lateral, vertical, axial; one over the product of the two units. Its
   * inverse is the covariance that the noise floors are made from.
   */
  information: z.strictObject({
    angleUnit: z.literal('deg'),
    translationUnit: z.enum(['mm', 'percentOfDepth']),
    everyFrames: num,
    lowerTriangles: z.array(series),
  }),
  /**
   * Where the two could not be told apart: pan and tilt of this document are then pan-equivalent and tilt-equivalent
   * (they take in lateral and vertical motion as turn). Bounds hold with 97.5 %.
   */
  unsplit: z
    .strictObject({
      cause: z.enum(['flatScene', 'noTravel', 'shortTracks']),
      ifAllAngular: z.strictObject({ panDeg: num, tiltDeg: num }),
      ifAllTranslation: z.strictObject({ lateral: orNull, vertical: orNull }),
      change: z.array(changeSchema),
    })
    .nullable(),
});

export const motionSchema = z.strictObject({
  bandHz: interval,
  mode: z.enum(['full', 'rotationOnly']),
  angular: z.strictObject({
    pan: axisRmsSchema,
    tilt: axisRmsSchema,
    roll: axisRmsSchema,
    rmsDeg: orNull,
  }),
  translational: z.strictObject({
    unit: z.enum(['mm', 'percentOfDepth']),
    observable: z.enum(['yes', 'flagged', 'no']),
    reason: z.string().nullable(),
    parallaxP: orNull,
    lateral: axisTranslationSchema,
    vertical: axisTranslationSchema,
    axial: axisTranslationSchema,
    medianDepthM: orNull,
    travelM: orNull,
  }),
  separation: separationSchema,
  /** A sensor that is read row by row: what is known of it, and whether the figures are freed of it. */
  readout: z.strictObject({
    source: z.enum(['given', 'found', 'none']),
    readoutMs: orNull,
    ci95Ms: interval.nullable(),
    /** notNeeded: no readout that is possible here could matter; notMeasurable: one could, but none stands out. */
    state: z.enum(['corrected', 'notNeeded', 'notMeasurable']),
    costFall: orNull,
  }),
  /** A lens that bends straight lines: what is known of it, and whether the figures are freed of it. */
  distortion: z.strictObject({
    source: z.enum(['given', 'found', 'none']),
    /** Of Brown and Conrady's model, points over the focal length. */
    k1: orNull,
    ci95: interval.nullable(),
    /**
     * notNeeded: no k1 that is possible here could matter; notMeasurable: one could, but none stands out (source none), or
     * the strongest that is possible is not enough (source found).
     */
    state: z.enum(['corrected', 'notNeeded', 'notMeasurable']),
    costFall: orNull,
  }),
  /** Axes whose figures should not be relied upon, and why. */
  unreliable: z.array(z.strictObject({ axis: z.enum(AXES), reason: z.string() })),
  /** Share of the image vibration energy that is angular, 0..1. */
  angularShare: z.strictObject({ value: orNull, ci95: interval.nullable() }),
});

const rangedSchema = z.strictObject({ value: num, low: num, high: num });

/** What a pass would cost and leave after a change, with 95 % ranges. */
export const predictedOutcomeSchema = z.strictObject({
  cropPercent: rangedSchema,
  /** False when a frame needs more than half of the width. */
  coverable: z.boolean(),
  /** Shake left after stabilising, px RMS of the delivery; null when it is not known. */
  residualPx: rangedSchema.nullable(),
  grade: z.enum(['pass', 'marginal', 'fail']),
});

export const verdictSchema = z.strictObject({
  grade: z.enum(['pass', 'marginal', 'fail', 'unmeasurable']),
  reasons: z.array(
    z.strictObject({
      code: z.string(),
      text: z.string(),
      value: orNull,
      limit: orNull,
      /** Room left to the limit, in `unit`; below 0 beyond it, or short of it where it is the least that is needed. */
      margin: orNull,
      /** 95 % range of the value, which it was decided with: marginal where the limit lies within. Null where none is known. */
      ci95: interval.nullable(),
      unit: z.string(),
    }),
  ),
  /** The step that helps most first. */
  advice: z.array(
    z.strictObject({
      code: z.string(),
      text: z.string(),
      effect: z.string(),
      /** Crop, shake left and grade with this step taken alone; null where it changes none of them. */
      predicted: predictedOutcomeSchema.nullable(),
    }),
  ),
});

/** One axis of a motion log against the pictures; null where they were not compared. */
const loggedAxisSchema = z
  .strictObject({
    correlation: num,
    /** Log over picture; null when they hang together too little to tell. */
    gain: orNull,
    gainCi95: interval.nullable(),
    rmsVideoDeg: num,
    rmsLogDeg: num,
    rmsDifferenceDeg: num,
    /** Within what the noise of both allows. */
    agrees: z.boolean(),
    noiseLogDeg: num,
  })
  .nullable();

const beyondNyquistAxisSchema = z
  .strictObject({
    /** Null when it cannot be told from the log's noise: then only the bound stands. */
    rmsDeg: orNull,
    belowDeg: orNull,
    /** Part that shows in the pictures at a false, lower frequency. */
    foldedDeg: orNull,
    /** Part that blurs within the exposure. */
    blurredDeg: orNull,
    dominantHz: orNull,
    series: seriesSchema,
  })
  .nullable();

export const motionLogSchema = z.strictObject({
  file: z.string(),
  sampleRateHz: num,
  /** False: nothing of the log was used; reason says why. */
  aligned: z.boolean(),
  reason: z.string().nullable(),
  /** Height of the correlation peak that the alignment rests on. */
  correlation: orNull,
  /** The log's clock minus the clip's, at the middle of the clip. */
  offsetS: orNull,
  offsetSdS: orNull,
  /** Seconds of the log in a second of the clip; null when it cannot be told from 1. */
  clockRatio: orNull,
  comparedS: interval.nullable(),
  axes: z.strictObject({ pan: loggedAxisSchema, tilt: loggedAxisSchema, roll: loggedAxisSchema }),
  /** What the log shows above half the frame rate; null when it is not the better instrument there. */
  beyondNyquist: z
    .strictObject({
      bandHz: interval,
      axes: z.strictObject({
        pan: beyondNyquistAxisSchema,
        tilt: beyondNyquistAxisSchema,
        roll: beyondNyquistAxisSchema,
      }),
    })
    .nullable(),
});

export const runSchema = z.strictObject({
  schema: z.literal(RUN_SCHEMA),
  tool: z.strictObject({ version: z.string(), commit: z.string().nullable() }),
  createdAt: z.string(),
  /** How lengths, heights and speeds are shown to people; every stored value is SI whatever stands here. */
  units: z.enum(UNITS).default('metric'),
  clip: clipSchema,
  rig: rigSchema.extend({
    lensDistortion: lensDistortionSchema.optional(),
    assumed: z.array(z.strictObject({ name: z.string(), value: z.string(), matters: z.string() })),
  }),
  /** What the crew wrote on the sheet of this pass. */
  pass: passSheetSchema,
  delivery: z.strictObject({
    /** Of the preset that it was taken from; null when it goes by no name. */
    name: z.string().nullable(),
    widthPx: num,
    heightPx: num,
    maxCropPercent: num,
    maxResidualPx: num,
    /** How far away the picture is watched, in heights of the 16:9 screen. */
    viewingDistanceHeights: num,
  }),
  tracking: trackingSchema,
  motion: motionSchema,
  /** Null when no motion log was given. */
  motionLog: motionLogSchema.nullable(),
  spectrum: spectrumSchema,
  stabilise: stabiliseSchema,
  surface: surfaceSchema,
  verdict: verdictSchema,
  warnings: z.array(warningSchema),
});

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
