/** The part of the run document on stabilising: what it costs in crop, what it leaves, what to set, what if. */
import { z } from 'zod';
import { residualSchema } from './residual-schema.js';
import { COVERABLE_SAYS } from './shared-schema.js';

const num = z.number();
const orNull = num.nullable();

const modeSchema = z
  .enum(['keepMove', 'holdStill', 'smoothest'])
  .describe(
    'keepMove: keep the move and lose its shake; holdStill: stand as if locked off; smoothest: the smoothest path that the crop allows.',
  );
const cropPercent = num.describe('Crop, per cent of the width.');
const coverable = z.boolean().describe(COVERABLE_SAYS);
const residualPx = orNull.describe('Shake left, px RMS of the delivery; null when it is not known.');
const smoothingS = orNull.describe(
  'Smoothing, s: one over the frequency below which motion is kept; null where the mode has no smoothing of its own.',
);
const focalLengthMm = orNull.describe('That focal length, mm; null when the one used is not known in mm.');

const forecastSchema = z.strictObject({
  takeS: num.describe('Length of the take, s.'),
  medianPercent: orNull.describe(
    'Crop that half of such takes need, per cent of the width; null where it cannot be told.',
  ),
  upper95Percent: orNull.describe(
    'Crop that 95 of 100 such takes stay below, per cent of the width; 100 leaves nothing of the picture. Null where it cannot be told.',
  ),
  atLeast: z.boolean().describe('True where hits are rare: the bound then stands for "at least".'),
  refused: z
    .strictObject({
      code: z
        .enum(['shortTest', 'farReach', 'fewPeaks'])
        .describe(
          'shortTest: the test is below 5 s; farReach: the take is beyond twelve times the test; fewPeaks: fewer than 5 independent peaks.',
        ),
      why: z.string().describe('Why, half a sentence that follows "because".'),
    })
    .nullable()
    .describe('Why there is no bound; null when there is one.'),
});

/** What a take elsewhere on the same kind of floor will need. */
const takeSchema = forecastSchema.extend({
  chanceExceeds: num.describe('Chance that such a take needs more crop than this clip did, 0..1.'),
  unseenHitsAtMost: orNull.describe(
    'Where the test holds no hit: as many may come in such a take unseen (95 %), of unknown height; else null.',
  ),
});

/** One way to frame so that the wanted picture is left after the crop. */
const framingSchema = z.strictObject({
  focalFactor: num.describe('Focal length to use, as a factor of the one whose picture is wanted.'),
  focalLengthMm,
  overscanPercent: num.describe('How much wider than the wanted picture to frame, per cent of its width.'),
  overscanPx: num.describe('The same in columns of the delivery, px, left and right together.'),
  cropPercent: num.describe(
    'What the crop then takes of the wider frame, per cent of its width, reserve included.',
  ),
});

const extremeSchema = z.strictObject({ cropPercent, coverable, residualPx }).nullable();

/** The figures of Liu, Yuan, Tan and Sun 2013 (definitions from memory), cropping by side and by area. */
const steadinessSchema = z.strictObject({
  croppingLinear: num.describe('Side of the picture kept, mean over the frames, 0..1; 1 is best.'),
  croppingArea: num.describe('Area of the picture kept, mean over the frames, 0..1; 1 is best.'),
  distortion: num.describe('Least ratio over the frames of the two stretches of the warp, 0..1; 1 is best.'),
  stability: num.describe(
    'Share of the energy of the path in its lowest frequencies, the lesser of shift and turn, 0..1; 1 is best.',
  ),
});

export const stabiliseSchema = z.strictObject({
  mode: modeSchema,
  smoothingS,
  rowsCorrected: z
    .boolean()
    .describe('True when the rows of each frame are turned each by its own time; the readout is known then.'),
  zoom: num.describe('Zoom that shows no border in any frame; 1 is none.'),
  cropPercent: num.describe(
    'Crop that stabilising costs with one zoom for all frames, per cent of the width.',
  ),
  cropPx: num.describe('The same in columns of the delivery, px, left and right together.'),
  coverable,
  worstFrameS: orNull.describe(
    'When the frame that decides the crop was shot, seconds from the start of the clip; null without frames.',
  ),
  movingCropPercent: orNull.describe(
    'Mean crop of a zoom that moves slowly, per cent of the width; null when not known.',
  ),
  offCentre: z
    .strictObject({
      rightPx: num.describe(
        'Middle of the window from the middle of the frame, px of the delivery, + to the right.',
      ),
      downPx: num.describe('Middle of the window from the middle of the frame, px of the delivery, + down.'),
      zoom: num.describe('Zoom of that window; 1 is none.'),
      cropPercent,
      coverable,
    })
    .describe('The best window of the same size in all frames, wherever it lies.'),
  modes: z
    .array(
      z.strictObject({
        mode: modeSchema,
        smoothingS,
        remark: z
          .string()
          .nullable()
          .describe('What a reader should know of the path; null where there is nothing.'),
        cropPercent,
        residualPx,
        coverable,
      }),
    )
    .describe('Every mode beside the chosen one, for the same clip and the same limits.'),
  takeS: num.describe('The take that is told first, s; one of those in longerTake.'),
  longerTake: z
    .array(takeSchema)
    .describe(
      'What takes elsewhere on the same kind of floor will need; holds, as again does, where the move is kept, whatever the mode.',
    ),
  again: z
    .strictObject({
      medianPercent: num.describe('Crop of the test, per cent of the width.'),
      upper95Percent: num.describe('Crop that 95 of 100 repeats stay below, per cent of the width.'),
      longer: z
        .array(forecastSchema)
        .describe('Takes that begin with the stretch of the test and go on over floor not seen yet.'),
    })
    .describe('The same stretch rolled again, as long as the test.'),
  hitsSeen: num.describe('Sudden events, such as joints, that were taken apart from the steady shake.'),
  curve: z
    .array(
      z.strictObject({
        smoothingS: num.describe('Smoothing, s: one over the frequency below which motion is kept.'),
        cropPercent,
        residualPx,
      }),
    )
    .describe('Crop and shake left over the smoothing, rising.'),
  residual: residualSchema.describe('What stabilising leaves.'),
  recommended: z
    .strictObject({
      smoothingS: orNull.describe('The smoothing to set, s; null in a mode that has none.'),
      why: z.string().describe('Why that smoothing, a plain sentence.'),
      zoom: num.describe('The zoom to set, reserve included; 1 is none.'),
      overscanPercent: orNull.describe(
        'How much wider than the wanted picture to frame for this very take, per cent of its width; the reserve is in it. Null when more than half of the frame would go.',
      ),
      forRepeat: framingSchema
        .nullable()
        .describe(
          'The same for a repeat of the move on the same floor: the figure for the day. Null when more than half of the frame would go.',
        ),
      thisTake: framingSchema
        .nullable()
        .describe('How to frame for this very take; null when more than half of the frame would go.'),
      reservePercent: num.describe(
        'Kept free beyond the exact crop for resampling at the border and the error of the angles, per cent of the width.',
      ),
      longestLens: z
        .strictObject({
          factor: num.describe('Its focal length over the one used.'),
          focalLengthMm,
          cropPercent,
          residualPx,
          limitedBy: z
            .enum(['crop', 'residual'])
            .nullable()
            .describe(
              'Which limit a longer lens breaks: crop or residual (shake left); null when none up to ten times does.',
            ),
        })
        .nullable()
        .describe(
          'The longest lens for which crop and shake left stay within the limits; null when none of 0.1 to 10 times does.',
        ),
      pixels: z
        .strictObject({
          holds: z.boolean().describe('True when no pixel of the delivery has to be made up.'),
          leftWidthPx: num.describe('Columns of the clip inside the crop, px.'),
          leftHeightPx: num.describe('Rows of the clip inside the crop, px.'),
          upscale: num.describe(
            'Pixels of the delivery per pixel of the clip along one side: above 1 it is enlarged.',
          ),
          largestCropPercent: orNull.describe(
            'Largest crop at which the delivery would hold, per cent of the width; null when it does not even uncropped.',
          ),
        })
        .describe('Pixels of the clip inside the crop against those of the delivery.'),
      shutterAngleDeg: orNull.describe(
        'The widest shutter at which sharpness does not pulse visibly, degrees; null when it does not now, or no shutter would do.',
      ),
    })
    .describe('What to set, and how to shoot on the day.'),
  whatIf: z
    .strictObject({
      focal: z
        .array(
          z.strictObject({
            factor: num.describe('Focal length over the one used.'),
            focalLengthMm,
            used: z.boolean().describe('True for the focal length of the clip.'),
            cropPercent,
            coverable,
            residualPx,
          }),
        )
        .describe('The same shake on other lenses.'),
      focalAssumes: z.string().describe('What the table of lenses takes for granted, a plain sentence.'),
      speed: z
        .array(
          z.strictObject({
            factor: num.describe('Speed over that of the pass.'),
            speedMps: orNull.describe('That speed, m/s; null when that of the pass is not known.'),
            durationS: num.describe('How long the same stretch then takes, s.'),
            allFloor: extremeSchema.describe('If all of the shake comes from the floor; null when refused.'),
            allMachine: extremeSchema.describe(
              'If all of the shake comes from the machine; null when refused.',
            ),
            refused: z
              .enum(['tooShort', 'tooSlow'])
              .nullable()
              .describe(
                'Why nothing is said: tooShort (too few periods of the smoothing fit) or tooSlow (the slowed pass holds next to no shake); else null.',
              ),
            assumes: z.string().describe('What this line takes for granted, a plain sentence.'),
          }),
        )
        .describe(
          'Other speeds, as two extremes: all of the shake comes from the floor, or all of it from the machine.',
        ),
    })
    .describe('What other lenses and speeds would cost and leave.'),
  steadiness: z
    .strictObject({
      before: steadinessSchema.describe('The clip as it is.'),
      after: steadinessSchema.describe('The clip as stabilised.'),
    })
    .describe('Figures by which papers on stabilisation compare clips (Liu, Yuan, Tan and Sun 2013).'),
});
