/** The published grades of a floor in the run document: flatness, straightedges, rail limit, texture, bands of wavelengths. */
import { z } from 'zod';

const num = z.number();
const orNull = num.nullable();

/** ASTM E1155 statistics of curvature. */
export const flatnessSchema = z.strictObject({
  equivalentFF: num.describe(
    'FF of a floor of this roughness between joints, in closed form; higher is flatter.',
  ),
  equivalentAsRolledFF: orNull.describe(
    'The same with joints and bumps; null when the pass does not give it.',
  ),
  profileFF: orNull.describe(
    'FF from the profile itself; null where its band is too narrow, reason says why.',
  ),
  band: z.string().describe('What ACI 117 calls that FF, of the profile where there is one.'),
  reason: z
    .string()
    .nullable()
    .describe('Why there is no profileFF, a plain sentence; null when there is one.'),
  readings: num.describe('Curvatures that were read from the profile.'),
  spacingM: num.describe('Distance of the points that a curvature is read from, m.'),
  curvatureMeanMm: orNull.describe(
    'Mean of the curvatures (differences of height differences), mm; null without readings.',
  ),
  curvatureSdMm: orNull.describe('Standard deviation of the curvatures, mm; null without readings.'),
  heldShare: num.describe("Share of the curvature's variance that lies in the band of the profile, 0..1."),
  change95Mm: orNull.describe(
    'Largest change of height difference over 300 mm that 95 % stay within, mm; null where the profile does not give it.',
  ),
  freeMovement: z
    .string()
    .nullable()
    .describe(
      'The class of free movement (TR34) that change95Mm meets; null where it meets none or is not known.',
    ),
});

/** The gap under a straightedge of one length. */
export const straightedgeSchema = z.strictObject({
  lengthM: num.describe('Length of the bar, m.'),
  gapMm: orNull.describe(
    'Largest gap along the wheel lines, mm; null where the band is too narrow, reason says why.',
  ),
  gapRangeMm: orNull.describe('Half of the 95 % range of the largest gap, mm; null without a gap.'),
  gap95Mm: orNull.describe('Gap that 95 % of all places of the bar stay within, mm; null without a gap.'),
  noiseGapMm: orNull.describe('Largest gap that the noise alone would show, mm; null without a gap.'),
  atM: orNull.describe(
    'Where the largest gap is, m from the rear axle at the first frame of the clip; null without a gap.',
  ),
  spanM: orNull.describe('How far apart the rests of the bar are there, m; null without a gap.'),
  reason: z.string().nullable().describe('Why there is no gap, a plain sentence; null when there is one.'),
  dinRow: orNull.describe(
    'Strictest row of DIN 18202 table 3 that is met, 1 to 4, 4 being the strictest; null when none is.',
  ),
  dinLimitMm: orNull.describe('Limit of that row at spanM, mm; null without a row.'),
  surfaceRegularity: z
    .string()
    .nullable()
    .describe('Class of surface regularity of BS 8204, at 2 m; null for other bars or where none is met.'),
});

/** Against the limit spectrum of EN ISO 3095:2013. */
export const railSchema = z.strictObject({
  outcome: z
    .enum(['meets', 'exceeds', 'cannotTell'])
    .describe(
      'meets: all bands are under the limit; exceeds: at least one is over it; cannotTell: one is too near to it or too little known.',
    ),
  bandsCompared: num.describe('Bands that could be held against the limit.'),
  bandsUntold: num.describe('Bands of which only a bound above the limit is known.'),
  worstExcessDb: num.describe('Largest level minus limit, dB; below 0 where all bands are under it.'),
  worstCentreM: num.describe('Wavelength of that band, exact centre, m.'),
  sumDb: num.describe('Sum of the levels over the bands compared, dB re 1 um.'),
  limitSumDb: num.describe('Sum of the limits over the same bands, dB re 1 um.'),
});

/** Height parameters after the Gaussian profile filter of ISO 16610-21. */
export const textureSchema = z.strictObject({
  cutoffM: num.describe('Cut-off wavelength of the filter, m: longer waves are left out.'),
  shortestM: num.describe('Shortest wave in the figures, m.'),
  rqMm: num.describe('Rq, the RMS height, mm.'),
  raMm: num.describe('Ra, the mean height without sign, mm.'),
  rzMm: num.describe('Rz, highest minus lowest, mean over the sections, mm.'),
  sections: num.describe('Section lengths behind Rz, of all wheel lines.'),
  noiseRqMm: num.describe('RMS of the error that is in the figures, mm.'),
});

/** A one-third octave of wavelengths. */
export const wavelengthBandSchema = z.strictObject({
  centreM: num.describe('Exact middle of the band, wavelength in m.'),
  nominalM: num.describe('Name of the band, wavelength in m.'),
  levelDbRe1um: num.describe(
    "One wheel track's RMS height in the band with everything rolled over, dB re 1 um.",
  ),
  betweenJointsDb: orNull.describe(
    'The same without the bumps of the list, dB re 1 um; null when none were taken out or it is not known.',
  ),
  sdDb: num.describe('Standard deviation of the level, dB.'),
  below: z.boolean().describe('True where the levels are upper bounds.'),
  railLimitDb: orNull.describe('Limit of EN ISO 3095:2013 in the band, dB re 1 um; null where it has none.'),
});
