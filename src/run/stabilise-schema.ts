/** The part of the run document on stabilising: what it costs in crop, what it leaves, what to set, what if. */
import { z } from 'zod';

const num = z.number();
const orNull = num.nullable();

const modeSchema = z.enum(['keepMove', 'holdStill', 'smoothest']);

/** Picture motion of one cause, px of the delivery, and as an angle from where it is watched. */
const leftSchema = z.strictObject({ rmsPx: num, p95Px: orNull, arcMinRms: num, arcMinP95: orNull });

const forecastSchema = z.strictObject({
  takeS: num,
  medianPercent: orNull,
  upper95Percent: orNull,
  /** True where hits are rare: the bound then stands for "at least". */
  atLeast: z.boolean(),
  /** Why there is no bound; null when there is one. */
  refused: z
    .strictObject({ code: z.enum(['shortTest', 'farReach', 'fewPeaks']), why: z.string() })
    .nullable(),
});

/** What a take elsewhere on the same kind of floor will need. */
const takeSchema = forecastSchema.extend({
  /** Chance that such a take needs more crop than this clip did. */
  chanceExceeds: num,
  /** Where the test holds no hit: as many may come unseen (95 %), of unknown height. */
  unseenHitsAtMost: orNull,
});

/** One way to frame so that the wanted picture is left after the crop. */
const framingSchema = z.strictObject({
  focalFactor: num,
  focalLengthMm: orNull,
  overscanPercent: num,
  overscanPx: num,
  cropPercent: num,
});

const extremeSchema = z
  .strictObject({ cropPercent: num, coverable: z.boolean(), residualPx: orNull })
  .nullable();

/** The figures of Liu, Yuan, Tan and Sun 2013 (definitions from memory), cropping by side and by area. */
const steadinessSchema = z.strictObject({
  croppingLinear: num,
  croppingArea: num,
  distortion: num,
  stability: num,
});

export const stabiliseSchema = z.strictObject({
  mode: modeSchema,
  /** Null where the mode has no smoothing of its own. */
  smoothingS: orNull,
  /** True when the rows of each frame are turned each by its own time; the readout is known then. */
  rowsCorrected: z.boolean(),
  zoom: num,
  cropPercent: num,
  cropPx: num,
  /** False when a frame needs more than half of the width: no shot to stabilise. */
  coverable: z.boolean(),
  worstFrameS: orNull,
  movingCropPercent: orNull,
  /** The best window of the same size in all frames, wherever it lies: from the middle of the frame, px of the delivery. */
  offCentre: z.strictObject({
    rightPx: num,
    downPx: num,
    zoom: num,
    cropPercent: num,
    coverable: z.boolean(),
  }),
  /** Every mode beside the chosen one, for the same clip and the same limits. */
  modes: z.array(
    z.strictObject({
      mode: modeSchema,
      smoothingS: orNull,
      /** What a reader should know of the path; null where there is nothing. */
      remark: z.string().nullable(),
      cropPercent: num,
      residualPx: orNull,
      coverable: z.boolean(),
    }),
  ),
  /** The take that is told first, seconds; one of those in longerTake. */
  takeS: num,
  /** These and `again` hold where the move is kept, whatever the mode. */
  longerTake: z.array(takeSchema),
  /** The same stretch rolled again, as long as the test. */
  again: z.strictObject({
    medianPercent: num,
    upper95Percent: num,
    /** Takes that begin with the stretch of the test and go on over floor not seen yet. */
    longer: z.array(forecastSchema),
  }),
  /** Sudden events, such as joints, that were taken apart from the steady shake. */
  hitsSeen: num,
  curve: z.array(z.strictObject({ smoothingS: num, cropPercent: num, residualPx: orNull })),
  residual: z.strictObject({
    rmsPx: orNull,
    p95Px: orNull,
    parallaxPx: orNull,
    blurPx: orNull,
    readoutPx: orNull,
    /** True when the translation lies below the noise: rmsPx and parallaxPx are then upper bounds. */
    atMost: z.boolean(),
    viewing: z.strictObject({ arcMinPerPx: num, distanceHeights: num }),
    total: leftSchema.nullable(),
    causes: z.strictObject({
      translation: leftSchema.nullable(),
      parallax: leftSchema.nullable(),
      path: leftSchema,
      readout: leftSchema.nullable(),
      /** The same where a stabiliser turns whole frames. */
      readoutWholeFrames: leftSchema.nullable(),
      tracking: leftSchema,
      /** Sharpness that pulses: deviation of each frame's smear from the middle one; no motion, not in the total. */
      blur: leftSchema.extend({ pulsePx: num, pulseArcMin: num }).nullable(),
    }),
  }),
  recommended: z.strictObject({
    smoothingS: orNull,
    why: z.string(),
    zoom: num,
    /** How much wider than the wanted picture to frame for this very take, per cent of its width; the reserve is in it. */
    overscanPercent: orNull,
    /** The same for a repeat of the move on the same floor: the figure for the day. */
    forRepeat: framingSchema.nullable(),
    thisTake: framingSchema.nullable(),
    /** Kept free beyond the exact crop for resampling at the border and the error of the angles, per cent of the width. */
    reservePercent: num,
    /** The longest lens for which crop and shake left stay within the limits; null when none of 0.1 to 10 times does. */
    longestLens: z
      .strictObject({
        factor: num,
        focalLengthMm: orNull,
        cropPercent: num,
        residualPx: orNull,
        limitedBy: z.enum(['crop', 'residual']).nullable(),
      })
      .nullable(),
    /** Pixels of the clip inside the crop against those of the delivery. */
    pixels: z.strictObject({
      holds: z.boolean(),
      leftWidthPx: num,
      leftHeightPx: num,
      upscale: num,
      largestCropPercent: orNull,
    }),
    /** The widest shutter at which sharpness does not pulse visibly; null when it does not now, or no shutter would do. */
    shutterAngleDeg: orNull,
  }),
  whatIf: z.strictObject({
    focal: z.array(
      z.strictObject({
        factor: num,
        focalLengthMm: orNull,
        used: z.boolean(),
        cropPercent: num,
        coverable: z.boolean(),
        residualPx: orNull,
      }),
    ),
    focalAssumes: z.string(),
    /** Two extremes: all of the shake comes from the floor, or all of it from the machine. */
    speed: z.array(
      z.strictObject({
        factor: num,
        speedMps: orNull,
        durationS: num,
        allFloor: extremeSchema,
        allMachine: extremeSchema,
        refused: z.enum(['tooShort', 'tooSlow']).nullable(),
        assumes: z.string(),
      }),
    ),
  }),
  steadiness: z.strictObject({ before: steadinessSchema, after: steadinessSchema }),
});
