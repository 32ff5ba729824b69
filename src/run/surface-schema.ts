/** The part of the run document on the surface: roughness, profile, bumps with their place, published grades, other setups. */
import { z } from 'zod';
import {
  flatnessSchema,
  railSchema,
  straightedgeSchema,
  textureSchema,
  wavelengthBandSchema,
} from './floor-grades-schema.js';
import { rangedSchema as alwaysRangedSchema } from './shared-schema.js';

const num = z.number();
const orNull = num.nullable();
const interval = z.tuple([num, num]);
const series = z.array(num);

/** What the roughness is made of, so that other setups can be predicted from a stored run. */
const roughnessPartsSchema = z.strictObject({
  meanTrackM3: orNull.describe(
    'Gd(n0) of the mean of both wheel tracks, m^3, n0 = 0.1 cycles/m; null where the pass does not show it.',
  ),
  differenceM3: orNull.describe('Gd(n0) of left minus right, m^3; null where the pass does not show it.'),
  sdLn: num.describe('Standard deviation of ln Gd, no unit.'),
  contactCyclesPerM: num.describe("Wavenumber at which the wheel's contact halves the power, cycles/m."),
  speedMps: num.describe('Mean speed under way, m/s.'),
});

/** The word for the floor and what stands behind it. */
const spokenSchema = z.strictObject({
  word: z
    .string()
    .describe('From smooth to rough: glass, silk, linen, burlap, gravel or rubble; joints and bumps count.'),
  orBetter: z.boolean().describe('True when the figure behind it is an upper bound.'),
  steadyUpToMm: num.describe(
    'Longest focal length, mm, 36 mm wide sensor, at which the reference dolly shakes less than a pixel.',
  ),
  withCropUpToMm: num.describe(
    'Longest focal length, mm, 36 mm wide sensor, at which a crop of 5 % covers its shake.',
  ),
});

const profileSchema = z.strictObject({
  distanceM: series.describe(
    'Places along the run, m from the rear axle at the first frame of the clip, evenly spaced.',
  ),
  heightMm: series.describe(
    'Mean height of both wheel lines there, mm, + up; the longest and shortest waves are missing.',
  ),
  bandMm: series.describe('Half of the 95 % band of heightMm, mm.'),
  leftMm: series.nullable().describe('Height under the left wheels, mm, + up; null without deck roll.'),
  rightMm: series.nullable().describe('Height under the right wheels, mm, + up; null without deck roll.'),
  sideBandMm: series
    .nullable()
    .describe('Half of the 95 % band of either wheel line, mm; null without deck roll.'),
});

const bumpSchema = z.strictObject({
  atM: num.describe('Place along the run, m from the rear axle at the first frame of the clip.'),
  atRangeM: num.describe('Half of the 95 % range of the place, m, the scale of the speed left out.'),
  atS: num.describe('When the first axle that meets it is over it, seconds from the start of the clip.'),
  axlesS: series.describe(
    'When each axle that meets it within the clip is over it, seconds from the start of the clip.',
  ),
  heightMm: num.describe(
    'Height under the mean of both wheel lines, mm: for a step or joint + up along the travel, for a bump above the floor, for a dip - below it.',
  ),
  heightRangeMm: num.describe('Half of the 95 % range of heightMm, mm.'),
  leftMm: orNull.describe('Height under the left wheels, mm, sign as heightMm; null without deck roll.'),
  rightMm: orNull.describe('Height under the right wheels, mm, sign as heightMm; null without deck roll.'),
  // Runs that were measured before it was told have none.
  sideRangeMm: orNull
    .default(null)
    .describe('Half of the 95 % range of leftMm and of rightMm, mm; null without deck roll.'),
  lengthM: num.describe('Length along the run, m; 0 for a step or joint.'),
  kind: z
    .enum(['step', 'joint', 'bump', 'dip'])
    .describe('What it is: step, joint (one of a row), bump or dip.'),
  wheelLine: z
    .enum(['left', 'right', 'both', 'unknown'])
    .describe('Which wheels meet it: left, right, both or unknown.'),
  pictureShiftPx: orNull.describe(
    'Largest shift of the picture that it makes, px of the delivery; null when not known.',
  ),
  confidence: num.describe('Probability that it is there, 0..1.'),
  foundBy: z
    .enum(['itself', 'pattern'])
    .describe('itself: by its own shake; pattern: because the row that it belongs to is there.'),
});

const jointsSchema = z.strictObject({
  spacingM: num.describe('From one joint to the next, m.'),
  spacingRangeM: num.describe('Half of the 95 % range of the spacing, m.'),
  count: num.describe('Joints of the row within the run.'),
  seen: num.describe('Joints that stand out by themselves.'),
  firstM: num.describe('Place of the first joint, m from the rear axle at the first frame of the clip.'),
  stepRmsMm: num.describe('RMS step of the joints under one wheel line, mm.'),
  lnEvidence: num.describe('Natural logarithm of the Bayes factor for the row against no joints.'),
});

const rangedSchema = alwaysRangedSchema.nullable();

/** This floor under another setup, or this setup on another floor. */
const predictionSchema = z.strictObject({
  change: z
    .enum(['none', 'speed', 'wheelbase', 'wheel', 'lens', 'surface'])
    .describe('What is changed: none (as shot), speed, wheelbase, wheel, lens or surface.'),
  label: z.string().describe('What is changed, as a crew says it.'),
  pitchMdegRms: rangedSchema.describe(
    'Pitch of the deck, thousandths of a degree RMS; null where it cannot be told.',
  ),
  rollMdegRms: rangedSchema.describe(
    'Roll of the deck, thousandths of a degree RMS; null where it cannot be told.',
  ),
  shakePxRms: rangedSchema.describe(
    'Shift of the delivered picture by turning, px RMS; null where it cannot be told.',
  ),
  ratio: rangedSchema.describe(
    'Shake over the shake of the present setup, no unit; null where it cannot be told.',
  ),
  largestKickPx: orNull.describe(
    'Largest shift that joints and bumps make by turning the camera, px of the delivery; null where it cannot be told.',
  ),
  assumes: z.string().describe('What is taken for granted, a plain sentence.'),
  reason: z.string().nullable().describe('Why nothing is said, a plain sentence; null when something is.'),
});

export const surfaceSchema = z.strictObject({
  observable: z
    .boolean()
    .describe('False when the pass cannot show the floor; all figures are then null or empty.'),
  reason: z
    .string()
    .nullable()
    .describe('Why there is no grade, or a bound only, a plain sentence; null when there is a grade.'),
  wavelengthsM: interval
    .nullable()
    .describe('Shortest and longest wavelength that the pass shows, m; null without a grade.'),
  profileRmsMm: orNull.describe(
    'RMS height of a floor of this roughness between those wavelengths, mm, in closed form; null without a class.',
  ),
  psdAt01CyclesPerM: orNull.describe(
    'Gd(n0), the density of one wheel track at n0 = 0.1 cycles/m and waviness 2 between joints, m^3; an upper bound with atMost, a lower one with atLeast. Null without a grade.',
  ),
  psdAsRolled: orNull.describe(
    'The same with joints, bumps and machines counted, m^3; null when the pass does not give it.',
  ),
  psdCi95: interval.nullable().describe('95 % interval of psdAt01CyclesPerM, m^3; null for a bound.'),
  atMost: z.boolean().describe('True when only an upper bound of the roughness is known.'),
  atLeast: z.boolean().describe('True when only a lower bound of the roughness is known.'),
  parts: roughnessPartsSchema
    .nullable()
    .describe('What the roughness is made of; null without it or for an upper bound.'),
  waviness: orNull.describe(
    'Exponent of the spectrum as fitted: 2 is usual, more puts more of it into long waves; null where it cannot be told.',
  ),
  wavinessCi95: interval.nullable().describe('95 % interval of the waviness; null without one.'),
  isoClass: z
    .string()
    .nullable()
    .describe(
      'Class in the manner of ISO 8608, between joints: A to H, and A-1, A-2 ... for floors smoother than A. Null without a class.',
    ),
  ci95Class: z
    .tuple([z.string(), z.string()])
    .nullable()
    .describe('Classes at both ends of psdCi95; null without a class.'),
  isoClassAsRolled: z
    .string()
    .nullable()
    .describe('The class with joints, bumps and machines counted; null when the pass does not give it.'),
  spoken: spokenSchema.nullable().describe('The floor in one word; null where only a lower bound is known.'),
  flatnessFF: orNull.describe(
    'FF (ASTM E1155) of a floor of this roughness between joints; null without a class.',
  ),
  flatness: flatnessSchema
    .nullable()
    .describe('Floor flatness in full (ASTM E1155, ACI 117, TR34); null without a class.'),
  straightedges: z
    .array(straightedgeSchema)
    .describe('Gaps under straightedges (DIN 18202, BS 8204), by length.'),
  rail: railSchema
    .nullable()
    .describe(
      'Against the limit spectrum for rails of EN ISO 3095:2013; null where no band can be compared.',
    ),
  texture: textureSchema
    .nullable()
    .describe(
      'Height parameters of the profile (Gaussian filter of ISO 16610-21); null where its band is too narrow or the run too short.',
    ),
  wavelengthBands: z.array(wavelengthBandSchema).describe('Height in one-third octaves of wavelengths.'),
  profile: profileSchema.nullable().describe('The floor along the run; null when the pass does not show it.'),
  distanceRangePercent: orNull.describe(
    'How far the scale of distances is known, per cent either way (95 %); null without a grade.',
  ),
  joints: jointsSchema.nullable().describe('Joints laid at one spacing; null when none were found.'),
  bumps: z.array(bumpSchema).describe('Bumps, dips, steps and joints, worst first.'),
  predictions: z
    .array(predictionSchema)
    .describe('This floor under other setups, and this setup on other floors.'),
});

export type SurfaceSection = z.infer<typeof surfaceSchema>;
/** One line of the list of bumps. */
export type SurfaceBump = SurfaceSection['bumps'][number];
/** One prediction for another setup. */
export type SurfacePrediction = SurfaceSection['predictions'][number];
