/** The part of the run document on the surface: roughness, profile, bumps with their place, published grades, other setups. */
import { z } from 'zod';

const num = z.number();
const orNull = num.nullable();
const interval = z.tuple([num, num]);
const series = z.array(num);

/** What the roughness is made of, so that other setups can be predicted from a stored run. */
const roughnessPartsSchema = z.strictObject({
  /** Gd(n0) of the mean of both wheel tracks and of left minus right, m^3; null where the pass does not show it. */
  meanTrackM3: orNull,
  differenceM3: orNull,
  /** Standard deviation of ln Gd. */
  sdLn: num,
  /** Wavenumber at which the wheel's contact halves the power. */
  contactCyclesPerM: num,
  speedMps: num,
});

/** The word for the floor and what stands behind it. */
const spokenSchema = z.strictObject({
  word: z.string(),
  /** The figure behind it is an upper bound. */
  orBetter: z.boolean(),
  /** Longest focal length, 36 mm wide sensor, at which the reference dolly shakes less than a pixel; and with 5 % of crop. */
  steadyUpToMm: num,
  withCropUpToMm: num,
});

/** ASTM E1155 statistics of curvature. */
const flatnessSchema = z.strictObject({
  /** FF of a floor of this roughness, in closed form. */
  equivalentFF: num,
  equivalentAsRolledFF: orNull,
  /** FF from the profile itself; null where its band is too narrow, and why. */
  profileFF: orNull,
  /** What ACI 117 calls that FF. */
  band: z.string(),
  reason: z.string().nullable(),
  readings: num,
  spacingM: num,
  curvatureMeanMm: orNull,
  curvatureSdMm: orNull,
  /** Share of the curvature's variance that lies in the band of the profile, 0..1. */
  heldShare: num,
  /** Largest change of height difference over 300 mm that 95 % stay within, and the class of free movement it meets. */
  change95Mm: orNull,
  freeMovement: z.string().nullable(),
});

const straightedgeSchema = z.strictObject({
  lengthM: num,
  /** Largest gap, and the one that 95 % stay within; null where the band is too narrow, and why. */
  gapMm: orNull,
  /** Half of the 95 % range of the largest gap. */
  gapRangeMm: orNull,
  gap95Mm: orNull,
  /** What the noise alone would show. */
  noiseGapMm: orNull,
  /** Where the largest gap is, and how far apart the rests of the bar are there. */
  atM: orNull,
  spanM: orNull,
  reason: z.string().nullable(),
  /** Strictest row of DIN 18202 table 3 that is met. */
  dinRow: orNull,
  /** Limit of that row at spanM. */
  dinLimitMm: orNull,
  /** BS 8204, at 2 m. */
  surfaceRegularity: z.string().nullable(),
});

/** Against the limit spectrum of EN ISO 3095:2013. */
const railSchema = z.strictObject({
  outcome: z.enum(['meets', 'exceeds', 'cannotTell']),
  bandsCompared: num,
  /** Bands of which only a bound above the limit is known. */
  bandsUntold: num,
  worstExcessDb: num,
  worstCentreM: num,
  sumDb: num,
  limitSumDb: num,
});

/** Height parameters after the Gaussian profile filter of ISO 16610-21. */
const textureSchema = z.strictObject({
  cutoffM: num,
  /** Shortest wave in the figures. */
  shortestM: num,
  rqMm: num,
  raMm: num,
  rzMm: num,
  sections: num,
  /** RMS of the error that is in the figures. */
  noiseRqMm: num,
});

const bandSchema = z.strictObject({
  /** Exact centre, and the name of the band. */
  centreM: num,
  nominalM: num,
  /** One wheel track's RMS height in the band, dB re 1 um: with everything, and without the bumps of the list. */
  levelDbRe1um: num,
  betweenJointsDb: orNull,
  sdDb: num,
  /** The levels are upper bounds. */
  below: z.boolean(),
  railLimitDb: orNull,
});

const profileSchema = z.strictObject({
  distanceM: series,
  /** Mean of both wheel lines, and half of its 95 % band. */
  heightMm: series,
  bandMm: series,
  /** Each wheel line; null without deck roll. */
  leftMm: series.nullable(),
  rightMm: series.nullable(),
  sideBandMm: series.nullable(),
});

const bumpSchema = z.strictObject({
  atM: num,
  /** Half of the 95 % range of the place along the run, the scale of the speed left out. */
  atRangeM: num,
  atS: num,
  /** When each axle that meets it within the clip is over it; atS is the first of them. */
  axlesS: series,
  heightMm: num,
  heightRangeMm: num,
  leftMm: orNull,
  rightMm: orNull,
  lengthM: num,
  kind: z.enum(['step', 'joint', 'bump', 'dip']),
  wheelLine: z.enum(['left', 'right', 'both', 'unknown']),
  pictureShiftPx: orNull,
  confidence: num,
  /** By its own shake, or because the row that it belongs to is there. */
  foundBy: z.enum(['itself', 'pattern']),
});

const jointsSchema = z.strictObject({
  spacingM: num,
  spacingRangeM: num,
  count: num,
  /** Joints that stand out by themselves. */
  seen: num,
  firstM: num,
  stepRmsMm: num,
  lnEvidence: num,
});

const rangedSchema = z.strictObject({ value: num, low: num, high: num }).nullable();

/** This floor under another setup, or this setup on another floor. */
const predictionSchema = z.strictObject({
  change: z.enum(['none', 'speed', 'wheelbase', 'wheel', 'lens', 'surface']),
  /** What is changed, as a crew says it. */
  label: z.string(),
  pitchMdegRms: rangedSchema,
  rollMdegRms: rangedSchema,
  shakePxRms: rangedSchema,
  /** Shake over the shake of the present setup. */
  ratio: rangedSchema,
  /** Largest shift that joints and bumps make by turning the camera, px. */
  largestKickPx: orNull,
  assumes: z.string(),
  /** Why nothing is said. */
  reason: z.string().nullable(),
});

export const surfaceSchema = z.strictObject({
  observable: z.boolean(),
  reason: z.string().nullable(),
  wavelengthsM: interval.nullable(),
  profileRmsMm: orNull,
  /** Single-track Gd(n0) at waviness 2 between joints, m^3; an upper bound with atMost, a lower one with atLeast. */
  psdAt01CyclesPerM: orNull,
  /** The same with joints, bumps and machines counted. */
  psdAsRolled: orNull,
  psdCi95: interval.nullable(),
  atMost: z.boolean(),
  atLeast: z.boolean(),
  parts: roughnessPartsSchema.nullable(),
  waviness: orNull,
  wavinessCi95: interval.nullable(),
  isoClass: z.string().nullable(),
  ci95Class: z.tuple([z.string(), z.string()]).nullable(),
  isoClassAsRolled: z.string().nullable(),
  spoken: spokenSchema.nullable(),
  flatnessFF: orNull,
  flatness: flatnessSchema.nullable(),
  straightedges: z.array(straightedgeSchema),
  rail: railSchema.nullable(),
  texture: textureSchema.nullable(),
  wavelengthBands: z.array(bandSchema),
  profile: profileSchema.nullable(),
  /** How far the scale of distances is known, per cent (95 %). */
  distanceRangePercent: orNull,
  joints: jointsSchema.nullable(),
  bumps: z.array(bumpSchema),
  predictions: z.array(predictionSchema),
});

export type SurfaceSection = z.infer<typeof surfaceSchema>;
/** One line of the list of bumps. */
export type SurfaceBump = SurfaceSection['bumps'][number];
/** One prediction for another setup. */
export type SurfacePrediction = SurfaceSection['predictions'][number];
