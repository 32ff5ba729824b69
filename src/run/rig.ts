/** The rig (lens, sensor, dolly) and the delivery, as a crew writes them down; every field is optional. */
import { z } from 'zod';

const positive = z.number().positive().finite();
const finite = z.number().finite();

export const lensDistortionSchema = z.strictObject({
  k1: finite.default(0),
  k2: finite.default(0),
  p1: finite.default(0),
  p2: finite.default(0),
  k3: finite.default(0),
});

export const rigSchema = z.strictObject({
  focalLengthMm: positive.optional(),
  sensorWidthMm: positive.optional(),
  focalPx: positive.optional(),
  readoutMs: z.number().min(0).max(100).optional(),
  shutterAngleDeg: z.number().min(0).max(360).optional(),
  speedMps: positive.optional(),
  travelM: positive.optional(),
  wheelbaseM: positive.optional(),
  trackWidthM: positive.optional(),
  wheelDiameterM: positive.optional(),
  jointSpacingM: positive.optional(),
  cameraHeightM: positive.optional(),
  cameraOffsetM: finite.optional(),
  lensAzimuthDeg: z.number().min(-180).max(180).optional(),
  head: z.enum(['locked', 'operated', 'selfLevelling']).optional(),
  lensDistortion: lensDistortionSchema.optional(),
});

export const deliverySchema = z.strictObject({
  widthPx: z.number().int().min(16).max(16384).optional(),
  heightPx: z.number().int().min(16).max(16384).optional(),
  maxCropPercent: z.number().min(0).max(90).optional(),
  maxResidualPx: positive.optional(),
});

/** A rig as given: only what the crew knows. Lengths in the unit of the name, angles in degrees. */
export type Rig = z.infer<typeof rigSchema>;
export type Delivery = z.infer<typeof deliverySchema>;
export type LensDistortion = z.infer<typeof lensDistortionSchema>;

/** A delivery with every limit filled in. */
export type ResolvedDelivery = { [Name in keyof Delivery]-?: NonNullable<Delivery[Name]> };
