/**
 * The series file of a run, schema "trundle-series/1": the motion at full precision and what is known of the dolly, so that
 * questions asked later (another lens, another speed, another run beside it) are computed without the clip.
 *
 * SI units and radians, as inside the program; null where a number is not known. Belongs to the run document of the same clip
 * checksum and time.
 */
import { z } from 'zod';
import { AXES } from './axes.js';
import { lensDistortionSchema } from './rig.js';

/** Format and version of the series file. */
export const SERIES_SCHEMA = 'trundle-series/1';

const num = z.number();
const orNull = num.nullable();
const pair = z.tuple([num, num]);
const column = z.array(num);
const gappy = z.array(orNull);

function perAxis<Column extends z.ZodType>(of: Column) {
  return z.strictObject({ pan: of, tilt: of, roll: of, lateral: of, vertical: of, axial: of });
}

const size = z.strictObject({ widthPx: num, heightPx: num });

const cameraSchema = z.strictObject({
  ...size.shape,
  focalPx: num,
  centreXPx: num,
  centreYPx: num,
  distortion: lensDistortionSchema.nullable(),
});

const estimateSchema = z.strictObject({
  status: z.enum(['value', 'wide', 'below', 'notObservable']),
  rms: orNull,
  rawRms: num,
  peakToPeak: num,
  maximum: num,
  /** Null stands for no floor at all, as where nothing was seen. */
  floor: orNull,
  plainFloor: orNull,
  ci95: pair.nullable(),
  /** Null stands for no bound at all. */
  below: orNull,
});

const unsplitSchema = z.strictObject({
  cause: z.enum(['flatScene', 'noTravel', 'shortTracks']),
  ifAllAngular: z.strictObject({ panRad: orNull, tiltRad: orNull }),
  ifAllTranslation: z.strictObject({ lateral: orNull, vertical: orNull }),
  change: z.array(z.strictObject({ code: z.string(), text: z.string() })),
});

const foundSchema = {
  source: z.enum(['given', 'found', 'none']),
  state: z.enum(['corrected', 'notNeeded', 'notMeasurable']),
  costFall: orNull,
};

/** The camera's motion; the intended move is path minus vibration. */
export const storedMotionSchema = z.strictObject({
  timeS: column,
  rateHz: num,
  resampleShiftS: num,
  mode: z.enum(['full', 'rotationOnly']),
  path: perAxis(column),
  vibration: perAxis(column),
  noiseSd: perAxis(gappy),
  translationUnit: z.enum(['m', 'medianDepth']),
  travelM: orNull,
  depth: z.strictObject({ median: num, meanInverse: num, sdInverse: num }).nullable(),
  axes: perAxis(estimateSchema),
  bandHz: pair,
  trimFrames: num,
  parallaxP: orNull,
  observable: z.enum(['yes', 'flagged', 'no']),
  observableReason: z.string().nullable(),
  correlation: z.strictObject({ panLateral: num, tiltVertical: num }).nullable(),
  unsplit: unsplitSchema.nullable(),
  alongLens: num,
  angularShare: z.strictObject({ value: orNull, ci95: pair.nullable() }),
  sigmaPx: num,
  keptShare: num,
  tracksPerFrame: column,
  inliersPerFrame: column,
  readout: z.strictObject({ ...foundSchema, readoutS: orNull, ci95S: pair.nullable() }),
  distortion: z.strictObject({
    ...foundSchema,
    k1: orNull,
    ci95: pair.nullable(),
    rmsShare: perAxis(num).nullable(),
  }),
  camera: cameraSchema,
  unreliable: z.array(z.strictObject({ axis: z.enum(AXES), reason: z.string() })),
});

const setupSchema = z.strictObject({
  speedMps: num,
  rateHz: num,
  exposureS: num,
  cutoffHz: num,
  wheelbaseM: num,
  trackWidthM: orNull,
  wheel: z.strictObject({ diameterFactor: num, contactCyclesPerM: orNull, contactFactor95: num }),
  azimuthRad: num,
  view: z.strictObject({ focalPx: num, ...size.shape }).nullable(),
});

/** How the dolly rolled over the floor; only of a floor that was graded. */
export const storedFloorSchema = z.strictObject({
  present: z.strictObject({ setup: setupSchema, focalLengthMm: orNull, wheelDiameterM: orNull }),
  measured: z.strictObject({
    setup: setupSchema,
    pitchRadRms: orNull,
    rollRadRms: orNull,
    heaveMRms: orNull,
    sdLn: num,
  }),
  /** Travel of the rear axle, metres. */
  runLengthM: num,
  /** First frame of the moving stretch; the columns below begin there. */
  fromFrame: num,
  /** Place of the rear axle in each frame, metres from its place at the first frame of the clip. */
  rearM: column,
  /** From the rear to the front axle along the travel, as fitted, metres. */
  frontAheadM: num,
  mounting: z.strictObject({
    azimuthRad: num,
    tiltRad: num,
    offsetM: num,
    levellingHeightM: orNull,
    pitchShows: z.boolean(),
    rollShows: z.boolean(),
    heaveShows: z.boolean(),
  }),
});

/** The frame of the report: when it was taken, and the points that were followed in it. */
export const storedFrameSchema = z.strictObject({
  /** Seconds from the start of the clip. */
  atS: num,
  /** Fractions of the frame's width and height, 0 left or top, 1 right or bottom; as long as each other. */
  pointsX: column,
  pointsY: column,
  /** Whether the fit kept the point: 1, or 0 for one that moved by itself (a person, a reflection) or was lost. */
  kept: column,
});

export const runSeriesSchema = z.strictObject({
  schema: z.literal(SERIES_SCHEMA),
  /** Of the run document that it belongs to. */
  clipSha256: z.string(),
  createdAt: z.string(),
  /** How the clip was to be stabilised, and with which seed. */
  stabilise: z.strictObject({
    mode: z.enum(['keepMove', 'holdStill', 'smoothest']),
    smoothingS: orNull,
    takeS: num,
    seed: num,
  }),
  motion: storedMotionSchema,
  floor: storedFloorSchema.nullable(),
  /** The frame that the report shows; null when none could be read, or the run is older than this entry. */
  frame: storedFrameSchema.nullable().default(null),
});

/** The format as JSON Schema (draft 2020-12), for readers in other languages. */
export function seriesJsonSchema(): unknown {
  return z.toJSONSchema(runSeriesSchema);
}

export type StoredMotion = z.infer<typeof storedMotionSchema>;
export type StoredFloor = z.infer<typeof storedFloorSchema>;
export type StoredFrame = z.infer<typeof storedFrameSchema>;
/** What the series file of a run holds. */
export type RunSeries = z.infer<typeof runSeriesSchema>;
