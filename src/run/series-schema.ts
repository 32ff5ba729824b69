/**
 * The series file of a run, schema "trundle-series/1": the motion at full precision and what is known of the dolly, so that
 * questions asked later (another lens, another speed, another run beside it) are computed without the clip.
 *
 * SI units and radians, as inside the program; null where a number is not known. Belongs to the run document of the same clip
 * checksum and time.
 */
import { z } from 'zod';
import { angularFields, sixAxesSchema, translationalFields } from './axis-schema.js';
import { lensDistortionSchema } from './rig.js';
import {
  angularShareSchema,
  changeSchema,
  distortionFields,
  readoutFields,
  statusSchema,
  unreliableSchema,
  unsplitCauseSchema,
} from './shared-schema.js';

/** Format and version of the series file. */
export const SERIES_SCHEMA = 'trundle-series/1';

const num = z.number();
const orNull = num.nullable();
const pair = z.tuple([num, num]);
const column = z.array(num);
const gappy = z.array(orNull);

const UNITS_SAY = 'rad for angles, translationUnit for translation';

/** Columns of one length: angles in radians, translation in `translationUnit`. */
function columns<Column extends z.ZodType>(of: Column, what: string) {
  return z.strictObject({
    ...angularFields(of, `${what}, rad, one value a sample`),
    ...translationalFields(of, `${what}, in translationUnit, one value a sample`),
  });
}

const cameraSchema = z.strictObject({
  widthPx: num.describe('Width of the analysed picture, px.'),
  heightPx: num.describe('Height of the analysed picture, px.'),
  focalPx: num.describe('Focal length, px of the analysed picture.'),
  centreXPx: num.describe(
    'Where the lens axis meets the picture, px from the middle of the leftmost column, + right.',
  ),
  centreYPx: num.describe(
    'Where the lens axis meets the picture, px from the middle of the top row, + down.',
  ),
  distortion: lensDistortionSchema
    .nullable()
    .describe(
      "Lens distortion by Brown and Conrady's model, points over the focal length; null for straight lines.",
    ),
});

const estimateSchema = z.strictObject({
  status: statusSchema,
  rms: orNull.describe('Shake in bandHz with the noise taken off, RMS; null when notObservable.'),
  rawRms: num.describe('Shake in bandHz as measured, noise included, RMS.'),
  peakToPeak: num.describe('From the 0.5 to the 99.5 percentile of the shake.'),
  maximum: num.describe('Largest size of the shake, without sign.'),
  floor: orNull.describe(
    'Noise in the band, RMS, the error shared by parts of coded pictures included; null stands for no floor at all, as where nothing was seen.',
  ),
  plainFloor: orNull.describe('The part of the noise that was taken off, RMS; null as floor.'),
  ci95: pair.nullable().describe('95 % interval of rms; null where no figure stands.'),
  below: orNull.describe('Upper bound of the shake, RMS; null stands for no bound at all.'),
});

const unsplitSchema = z.strictObject({
  cause: unsplitCauseSchema,
  ifAllAngular: z
    .strictObject({
      panRad: orNull.describe('Upper bound of pan, rad RMS (97.5 %); null for none.'),
      tiltRad: orNull.describe('Upper bound of tilt, rad RMS (97.5 %); null for none.'),
    })
    .describe('Bounds if all of the shake were turning.'),
  ifAllTranslation: z
    .strictObject({
      lateral: orNull.describe('Upper bound of lateral, RMS in translationUnit (97.5 %); null for none.'),
      vertical: orNull.describe('Upper bound of vertical, RMS in translationUnit (97.5 %); null for none.'),
    })
    .describe('Bounds if all of the shake were translation.'),
  change: z.array(changeSchema).describe('What to change so that the next pass tells them apart.'),
});

/** The camera's motion; the intended move is path minus vibration. */
export const storedMotionSchema = z.strictObject({
  timeS: column.describe('Time of each sample, seconds from the start of the clip, evenly spaced.'),
  rateHz: num.describe('Samples per second.'),
  resampleShiftS: num.describe('Largest shift of a time stamp by bringing frames to an even rate, s.'),
  mode: z
    .enum(['full', 'rotationOnly'])
    .describe(
      'full: turning and translation were solved for; rotationOnly: the camera only turned, as far as can be seen.',
    ),
  path: columns(column, 'path summed up from the first sample').describe(
    'The whole path of the camera; the intended move is path minus vibration.',
  ),
  vibration: columns(column, 'shake, the path without the intended move').describe(
    'The shake of the camera.',
  ),
  noiseSd: columns(
    gappy,
    'standard deviation of the noise of the path; null where nothing is known',
  ).describe('Noise of the path, sample by sample.'),
  translationUnit: z
    .enum(['m', 'medianDepth'])
    .describe(
      'Unit of translation: m, or medianDepth (1 is the median distance of the scene) without a scale.',
    ),
  travelM: orNull.describe('Distance travelled that sets the scale, m; null without one.'),
  depth: z
    .strictObject({
      median: num.describe('Median distance of what was followed, in translationUnit.'),
      meanInverse: num.describe('Mean of one over the distance, in one over translationUnit.'),
      sdInverse: num.describe('Standard deviation of one over the distance, in one over translationUnit.'),
    })
    .nullable()
    .describe('How far away the scene is; null when the camera only turned.'),
  axes: sixAxesSchema(estimateSchema, `its shake in bandHz, ${UNITS_SAY}`).describe(
    'The figures of each axis, ends left out.',
  ),
  bandHz: pair.describe('Vibration band that every RMS holds for, from and to, Hz.'),
  trimFrames: num.describe('Samples at each end that are left out of every figure.'),
  parallaxP: orNull.describe(
    'Strongest parallax between two frames over the noise of the points; 1.3 to 1.5 for a camera that only turns. Null when unknown.',
  ),
  observable: z
    .enum(['yes', 'flagged', 'no'])
    .describe('Whether translation can be told from turning: yes, flagged (with doubt) or no.'),
  observableReason: z
    .string()
    .nullable()
    .describe('Why it is flagged or cannot be told, a plain sentence; null for yes.'),
  correlation: z
    .strictObject({
      panLateral: num.describe('Correlation of the errors of pan and lateral, -1..1.'),
      tiltVertical: num.describe('Correlation of the errors of tilt and vertical, -1..1.'),
    })
    .nullable()
    .describe('How well turning and translation are told apart; null for a camera that only turned.'),
  unsplit: unsplitSchema
    .nullable()
    .describe(
      'Where they could not be told apart: pan and tilt then take in lateral and vertical motion as turn. Null where they could.',
    ),
  alongLens: num.describe('Share of the squared travel that runs along the lens, 0..1.'),
  angularShare: angularShareSchema,
  sigmaPx: num.describe('Robust residual of the fit, px of the analysed picture along one axis.'),
  keptShare: num.describe('Share of the followed points that the fit kept, 0..1.'),
  tracksPerFrame: column.describe('Points followed in each frame.'),
  inliersPerFrame: column.describe('Points that the fit kept in each frame.'),
  readout: z
    .strictObject({
      ...readoutFields,
      readoutS: orNull.describe(
        'Time from the first row of a frame to one past the last, s; null when not known.',
      ),
      ci95S: pair
        .nullable()
        .describe(
          '95 % interval of a readout that was looked for, s; null when it was given or not looked for.',
        ),
    })
    .describe(
      'A sensor that is read row by row: what is known of it, and whether the figures are freed of it.',
    ),
  distortion: z
    .strictObject({
      source: distortionFields.source,
      state: distortionFields.state,
      costFall: distortionFields.costFall,
      k1: distortionFields.k1,
      ci95: distortionFields.ci95,
      rmsShare: sixAxesSchema(num, 'largest change of its RMS within ci95, as a share of it')
        .nullable()
        .describe('What the interval of k1 leaves open; null when it was not looked for.'),
    })
    .describe(
      'A lens that bends straight lines: what is known of it, and whether the figures are freed of it.',
    ),
  camera: cameraSchema.describe('The camera that the figures hold for, with the distortion that was found.'),
  unreliable: unreliableSchema,
});

const setupSchema = z.strictObject({
  speedMps: num.describe('Mean speed under way, m/s.'),
  rateHz: num.describe('Frames per second.'),
  exposureS: num.describe('Time that a frame is exposed, s.'),
  cutoffHz: num.describe('Lower end of the vibration band, where half of the amplitude is kept, Hz.'),
  wheelbaseM: num.describe('From the rear to the front axle, m.'),
  trackWidthM: orNull.describe('From the left to the right wheel line, m; null when not known.'),
  wheel: z
    .strictObject({
      diameterFactor: num.describe('Diameter over that of the wheels of the pass.'),
      contactCyclesPerM: orNull.describe(
        "Wavenumber at which the wheel's contact halves the power, cycles/m; null: that of the pass, moved by the diameter.",
      ),
      contactFactor95: num.describe(
        'How far that may be off, as a factor either way (95 %); 1 when it is known.',
      ),
    })
    .describe('The wheels.'),
  azimuthRad: num.describe('Direction of the lens against the travel, rad, + to the right.'),
  view: z
    .strictObject({
      focalPx: num.describe('Focal length, px of the delivery.'),
      widthPx: num.describe('Width of the delivery, px.'),
      heightPx: num.describe('Height of the delivery, px.'),
    })
    .nullable()
    .describe('What the delivered picture makes of angles; null when lens or delivery are not known.'),
});

/** How the dolly rolled over the floor; only of a floor that was graded. */
export const storedFloorSchema = z.strictObject({
  present: z
    .strictObject({
      setup: setupSchema.describe('Dolly, wheels, lens and speed.'),
      focalLengthMm: orNull.describe('Focal length, mm; null when not known.'),
      wheelDiameterM: orNull.describe('Diameter of the wheels, m; null when not known.'),
    })
    .describe('The setup of the pass.'),
  measured: z
    .strictObject({
      setup: setupSchema.describe('The setup that it was measured with.'),
      pitchRadRms: orNull.describe('Pitch of the deck, rad RMS; null where it was not measured.'),
      rollRadRms: orNull.describe('Roll of the deck, rad RMS; null where it was not measured.'),
      heaveMRms: orNull.describe('Heave (up and down) of the deck, m RMS; null where it was not measured.'),
      sdLn: num.describe('Standard deviation of ln of these figures; 0 when they are taken as exact.'),
    })
    .describe('The shake of the deck as measured.'),
  runLengthM: num.describe('Travel of the rear axle, m.'),
  fromFrame: num.describe('First frame of the moving stretch, from 0; rearM begins there.'),
  rearM: column.describe(
    'Place of the rear axle in each frame, m from its place at the first frame of the clip.',
  ),
  frontAheadM: num.describe('From the rear to the front axle along the travel, as fitted, m.'),
  mounting: z
    .strictObject({
      azimuthRad: num.describe('Direction of the lens against the travel, rad, + to the right.'),
      tiltRad: num.describe('Tilt of the lens against the travel, rad, + up.'),
      offsetM: num.describe(
        'Place of the lens along the travel, m from the middle between the axles, + ahead.',
      ),
      levellingHeightM: orNull.describe(
        "Height of the lens over the deck's wheels under a head that keeps itself level, m; null for any other head.",
      ),
      pitchShows: z.boolean().describe("True where the turn of the lens about the axles is the deck's."),
      rollShows: z.boolean().describe("True where the turn of the lens about the travel is the deck's."),
      heaveShows: z.boolean().describe('True where the height of the lens tells of the floor.'),
    })
    .describe('How the camera sits on the dolly.'),
});

/** The frame of the report: when it was taken, and the points that were followed in it. */
export const storedFrameSchema = z.strictObject({
  atS: num.describe('When the frame was shot, seconds from the start of the clip.'),
  pointsX: column.describe("Places of the points, fractions of the frame's width, 0 left, 1 right."),
  pointsY: column.describe(
    "Places of the points, fractions of the frame's height, 0 top, 1 bottom; as many as pointsX.",
  ),
  kept: column.describe(
    'Whether the fit kept the point: 1, or 0 for one that moved by itself (a person, a reflection) or was lost.',
  ),
});

export const runSeriesSchema = z
  .strictObject({
    schema: z.literal(SERIES_SCHEMA).describe('Name and version of this format.'),
    clipSha256: z
      .string()
      .describe('SHA-256 checksum of the clip, as in the run document that it belongs to.'),
    createdAt: z
      .string()
      .describe('When the clip was measured, ISO 8601, as in the run document that it belongs to.'),
    stabilise: z
      .strictObject({
        mode: z
          .enum(['keepMove', 'holdStill', 'smoothest'])
          .describe(
            'keepMove: keep the move and lose its shake; holdStill: stand as if locked off; smoothest: the smoothest path that the crop allows.',
          ),
        smoothingS: orNull.describe('Smoothing that was asked for, s; null when none was.'),
        takeS: num.describe('Length of the take that is told first, s.'),
        seed: num.describe('Seed of the random numbers.'),
      })
      .describe('How the clip was to be stabilised, and with which seed.'),
    motion: storedMotionSchema.describe('The motion of the camera at full precision.'),
    floor: storedFloorSchema
      .nullable()
      .describe('How the dolly rolled over the floor; null when it was not graded.'),
    frame: storedFrameSchema
      .nullable()
      .default(null)
      .describe(
        'The frame that the report shows; null when none could be read, or the run is older than this entry.',
      ),
  })
  .describe(
    'The motion of one run at full precision, rad and m, so that other lenses, speeds and setups are computed without the clip. Unknown values are null.',
  );

/** The format as JSON Schema (draft 2020-12), for readers in other languages. */
export function seriesJsonSchema(): unknown {
  return z.toJSONSchema(runSeriesSchema);
}

export type StoredMotion = z.infer<typeof storedMotionSchema>;
export type StoredFloor = z.infer<typeof storedFloorSchema>;
export type StoredFrame = z.infer<typeof storedFrameSchema>;
/** What the series file of a run holds. */
export type RunSeries = z.infer<typeof runSeriesSchema>;
