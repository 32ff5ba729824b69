/** The part of the run document on what stabilising leaves, cause by cause: px of the delivery, and minutes of arc as watched. */
import { z } from 'zod';

const num = z.number();
const orNull = num.nullable();

/** Picture motion of one cause, px of the delivery, and as an angle from where it is watched. */
const leftSchema = z.strictObject({
  rmsPx: num.describe('RMS over the frames, px of the delivery.'),
  p95Px: orNull.describe(
    '95th percentile over the frames, px of the delivery; null where only a bound is known.',
  ),
  arcMinRms: num.describe('RMS over the frames, minutes of arc from where it is watched.'),
  arcMinP95: orNull.describe('95th percentile, minutes of arc; null where only a bound is known.'),
});

export const residualSchema = z.strictObject({
  rmsPx: orNull.describe('Picture motion left, px RMS of the delivery; null when it is not known.'),
  p95Px: orNull.describe(
    '95th percentile of it over the frames, px of the delivery; null when it is not known.',
  ),
  parallaxPx: orNull.describe(
    'Part that differs between near and far, px RMS of the delivery; null when translation is not known.',
  ),
  blurPx: orNull.describe(
    'How far the smear of the exposure swells and shrinks, px of the delivery; null without exposure.',
  ),
  readoutPx: orNull.describe(
    'Bend within the frames of a sensor read row by row where whole frames are turned, px RMS of the delivery; null without a readout.',
  ),
  atMost: z
    .boolean()
    .describe('True when the translation lies below the noise: rmsPx and parallaxPx are then upper bounds.'),
  viewing: z
    .strictObject({
      arcMinPerPx: num.describe('Minutes of arc that one pixel of the delivery fills.'),
      distanceHeights: num.describe('How far away the picture is watched, in heights of the 16:9 screen.'),
    })
    .describe('From where the picture is watched.'),
  total: leftSchema
    .nullable()
    .describe(
      'All of it: root of the summed squares of translation, path, readout and tracking; null when not known.',
    ),
  causes: z
    .strictObject({
      translation: leftSchema
        .nullable()
        .describe(
          'By translation, at the depths of the scene: no warp that turns the picture takes it out. Null when not known.',
        ),
      parallax: leftSchema
        .nullable()
        .describe('The part of translation that differs between near and far; null when not known.'),
      path: leftSchema.describe('By the angular shake that the chosen path itself still holds.'),
      readout: leftSchema
        .nullable()
        .describe('By turning within the frames, after what is corrected of it; null without a readout.'),
      readoutWholeFrames: leftSchema
        .nullable()
        .describe('The same where a stabiliser turns whole frames; null without a readout.'),
      tracking: leftSchema.describe(
        'By the noise of the measured angles, which the warp writes into the picture.',
      ),
      blur: leftSchema
        .extend({
          pulsePx: num.describe('From the 0.5 to the 99.5 percentile of the smear, px of the delivery.'),
          pulseArcMin: num.describe('The same in minutes of arc.'),
        })
        .nullable()
        .describe(
          "Sharpness that pulses: deviation of each frame's smear from the middle one; no motion, not in the total. Null without exposure.",
        ),
    })
    .describe('What is left, cause by cause.'),
});
