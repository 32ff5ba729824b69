/** The rig (lens, sensor, dolly) and the delivery, as a crew writes them down; every field is optional. */
import { z } from 'zod';

/** A positive number up to a size no rig has: catches metres typed for millimetres. */
const upTo = (largest: number) => z.number().positive().max(largest);
const finite = z.number().finite();

export const lensDistortionSchema = z.strictObject({
  k1: finite.default(0),
  k2: finite.default(0),
  p1: finite.default(0),
  p2: finite.default(0),
  k3: finite.default(0),
});

export const rigSchema = z.strictObject({
  focalLengthMm: upTo(5000).optional(),
  sensorWidthMm: upTo(200).optional(),
  focalPx: upTo(1e6).optional(),
  /** Width of the pictures that focalPx counts in; the clip's own when missing. */
  focalPxWidth: z.number().int().min(16).max(100_000).optional(),
  readoutMs: z.number().min(0).max(100).optional(),
  shutterAngleDeg: z.number().min(0).max(360).optional(),
  speedMps: upTo(30).optional(),
  travelM: upTo(5000).optional(),
  wheelbaseM: upTo(10).optional(),
  trackWidthM: upTo(10).optional(),
  wheelDiameterM: upTo(3).optional(),
  jointSpacingM: upTo(100).optional(),
  /** Frequencies at which motors, fans and gears of the rig are known to run. */
  machinesHz: z.array(upTo(2000)).max(20).optional(),
  /** Frequency at which the mount of the camera is known to ring. */
  mountHz: upTo(200).optional(),
  /** Frequency of the mains: lamps flicker at twice that. */
  mainsHz: z.literal([50, 60]).optional(),
  cameraHeightM: upTo(50).optional(),
  cameraOffsetM: finite.optional(),
  lensAzimuthDeg: z.number().min(-180).max(180).optional(),
  head: z.enum(['locked', 'operated', 'selfLevelling']).optional(),
  lensDistortion: lensDistortionSchema.optional(),
});

export const deliverySchema = z.strictObject({
  /** Name of the preset that fills in what is not given; or a name of the crew's own. */
  name: z.string().trim().min(1).max(100).optional(),
  widthPx: z.number().int().min(16).max(16384).optional(),
  heightPx: z.number().int().min(16).max(16384).optional(),
  maxCropPercent: z.number().min(0).max(90).optional(),
  maxResidualPx: upTo(1000).optional(),
  /** How far away the picture is watched, in heights of the 16:9 screen. */
  viewingDistanceHeights: z.number().min(0.3).max(30).optional(),
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
