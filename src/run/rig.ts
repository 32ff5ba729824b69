/** The rig (lens, sensor, dolly) and the delivery, as a crew writes them down; every field is optional. */
import { z } from 'zod';

/** A positive number up to a size no rig has: catches metres typed for millimetres. */
const upTo = (largest: number) => z.number().positive().max(largest);
const finite = z.number().finite();

export const lensDistortionSchema = z.strictObject({
  k1: finite.default(0).describe('Radial term with the square of the distance from the middle; no unit.'),
  k2: finite.default(0).describe('Radial term with the fourth power of that distance; no unit.'),
  p1: finite.default(0).describe('First decentring term; no unit.'),
  p2: finite.default(0).describe('Second decentring term; no unit.'),
  k3: finite.default(0).describe('Radial term with the sixth power of that distance; no unit.'),
});

export const rigSchema = z.strictObject({
  focalLengthMm: upTo(5000).optional().describe('Focal length of the lens, mm; missing where not told.'),
  sensorWidthMm: upTo(200)
    .optional()
    .describe('Width of the part of the sensor that the clip shows, mm; missing where not told.'),
  focalPx: upTo(1e6)
    .optional()
    .describe(
      'Focal length in pixels of pictures focalPxWidth wide; wins over millimetres where both are told.',
    ),
  focalPxWidth: z
    .number()
    .int()
    .min(16)
    .max(100_000)
    .optional()
    .describe("Width of the pictures that focalPx counts in, px; the clip's own when missing."),
  readoutMs: z
    .number()
    .min(0)
    .max(100)
    .optional()
    .describe(
      'Time in which the sensor reads one frame from top to bottom, ms; 0 for a global shutter. When missing it is looked for in the clip.',
    ),
  shutterAngleDeg: z
    .number()
    .min(0)
    .max(360)
    .optional()
    .describe('Shutter angle, degrees: 360 exposes for the whole time of a frame.'),
  speedMps: upTo(30).optional().describe('Mean speed of the dolly under way, m/s.'),
  travelM: upTo(5000).optional().describe('Distance that the dolly travelled in the clip, m.'),
  wheelbaseM: upTo(10).optional().describe('From the rear to the front axle, m.'),
  trackWidthM: upTo(10).optional().describe('From the left to the right wheel line, m.'),
  wheelDiameterM: upTo(3).optional().describe('Diameter of the wheels, m.'),
  jointSpacingM: upTo(100).optional().describe('From one joint of floor or rail to the next, m.'),
  machinesHz: z
    .array(upTo(2000))
    .max(20)
    .optional()
    .describe('Frequencies at which motors, fans and gears of the rig are known to run, Hz.'),
  mountHz: upTo(200).optional().describe('Frequency at which the mount of the camera is known to ring, Hz.'),
  mainsHz: z
    .literal([50, 60])
    .optional()
    .describe('Frequency of the mains, 50 or 60 Hz: lamps flicker at twice that.'),
  cameraHeightM: upTo(50).optional().describe('Height of the lens over the floor, m.'),
  cameraOffsetM: finite
    .optional()
    .describe('Place of the lens along the travel, m from the middle between the axles, + ahead.'),
  lensAzimuthDeg: z
    .number()
    .min(-180)
    .max(180)
    .optional()
    .describe('Direction of the lens against the travel, degrees: 0 ahead, + to the right, 180 backwards.'),
  head: z
    .enum(['locked', 'operated', 'selfLevelling'])
    .optional()
    .describe(
      'What the camera stands on: locked (it turns with the dolly), operated (a person pans and tilts) or selfLevelling.',
    ),
  lensDistortion: lensDistortionSchema
    .optional()
    .describe("Lens distortion by Brown and Conrady's model, on points over the focal length."),
});

export const deliverySchema = z.strictObject({
  name: z
    .string()
    .trim()
    .min(1)
    .max(100)
    .optional()
    .describe("Name of the preset that fills in what is not given; or a name of the crew's own."),
  widthPx: z.number().int().min(16).max(16384).optional().describe('Width of the delivered picture, px.'),
  heightPx: z.number().int().min(16).max(16384).optional().describe('Height of the delivered picture, px.'),
  maxCropPercent: z
    .number()
    .min(0)
    .max(90)
    .optional()
    .describe('Most crop that is accepted for stabilising, per cent of the width.'),
  maxResidualPx: upTo(1000)
    .optional()
    .describe('Most shake that may be left after stabilising, px RMS of the delivery.'),
  viewingDistanceHeights: z
    .number()
    .min(0.3)
    .max(30)
    .optional()
    .describe('How far away the picture is watched, in heights of the 16:9 screen.'),
});

/** A rig as given: only what the crew knows. Lengths in the unit of the name, angles in degrees. */
export type Rig = z.infer<typeof rigSchema>;
export type Delivery = z.infer<typeof deliverySchema>;
export type LensDistortion = z.infer<typeof lensDistortionSchema>;

/** A delivery with every limit filled in; only the name may be missing. */
export type ResolvedDelivery = {
  [Name in Exclude<keyof Delivery, 'name'>]-?: NonNullable<Delivery[Name]>;
} & {
  readonly name: string | null;
};
