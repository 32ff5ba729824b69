/**
 * Floor flatness of a run, by ASTM E1155 and by TR34: from the profile in metres where its band holds enough of the curvature, and as
 * an equivalent of the roughness Gd(n0) in m^3 always.
 *
 * What it is not: a survey. E1155 excludes floors whose vehicles keep to fixed paths and prefers a continuous profile in the wheel path
 * there. FF is blind to ripple of 304.8 mm and its fractions, which tiles of 300 mm come near to.
 */
import { mean, rms } from '../../numerics/index.js';
import { flatnessTexts } from '../../texts/index.js';
import type { SurfaceProfile } from '../profile/types.js';
import { FLATNESS_SPACING_M, flatnessFF } from '../roughness/road-profile.js';
import {
  change95M,
  combinedFlatness,
  curvaturesAlong,
  curvatureStatistics,
  flatnessBand,
  flatnessNumber,
  freeMovement,
  FREE_MOVEMENT_SPACING_M,
  type CurvatureStatistics,
  type FreeMovement,
} from './flatness-survey.js';
import { profileExtent, profileLines, type ProfileLine } from './profile-lines.js';

/**
 * Share of the curvature's variance that the band must hold. At 0.8 the FF of the profile reads 12 % high at most, from waves that
 * are missing.
 */
export const LEAST_HELD_SHARE = 0.8;

/** Error of a curvature over that of a height, its three points taken as independent: 1 + 4 + 1 variances. */
const CURVATURE_ERROR = Math.sqrt(6);

/** That error must stay below this share of the deviation of the curvatures. */
const MOST_ERROR_SHARE = 0.5;

/** Shortest line of a survey, m. */
export const LEAST_LINE_M = 3.3;

/** Simpson's steps per unit of pi n d, in which sin^4 turns once in pi. */
const STEPS_PER_UNIT = 50;

/** From here on the integral takes sin^4 by its mean. */
const FAR = 40 * Math.PI;

/** Integral of sin^4(u) / u^2 over all u > 0. */
const WHOLE = Math.PI / 4;

/** Roughness of the floor at w = 2, Gd(n0) in m^3. */
export interface FloorRoughness {
  readonly betweenJointsM3: number;
  /** With joints and bumps; null when the pass does not give it. */
  readonly asRolledM3: number | null;
}

/** Flatness of a run; null where the profile cannot tell, and `reason` says why. */
export interface Flatness {
  /** FF that w = 2 floors of this roughness have on average, in closed form: equivalent, not measured. */
  readonly equivalentFF: number;
  readonly equivalentAsRolledFF: number | null;
  readonly profileFF: number | null;
  /** What ACI 117 calls that FF: of the profile, else of the equivalent between joints. */
  readonly band: string;
  readonly reason: string | null;
  readonly spacingM: number;
  /** Curvatures that were read, at every step of the profile. */
  readonly readings: number;
  readonly curvatureMeanM: number | null;
  /** With the error of the profile added to its variance. */
  readonly curvatureSdM: number | null;
  /** Share of the curvature's variance of a w = 2 floor that lies in the band of the profile, 0 .. 1. */
  readonly heldShare: number;
  /** TR34 property F: change of height difference over 300 mm that 95 % stay within, metres. */
  readonly change95M: number | null;
  readonly freeMovement: FreeMovement | null;
}

/**
 * Share of the variance of q of a w = 2 floor that a profile of this band holds: the integral of 16 sin^4(pi n d) G(n) over the band
 * against that over all n, which is 4 pi^2 n0^2 d Gd. Own derivation.
 *
 * The long end is that of the high-pass of the surface, 1 - 1 / (1 + (n longest)^8) in amplitude: a sharp edge would claim a tenth too
 * much. The short end is sharp.
 *
 * @param bandM shortest and longest wavelength, m
 * @param spacingM reading spacing d
 * @example heldCurvatureShare([0, Infinity], 0.3048) // 1
 */
export function heldCurvatureShare(
  [shortestM, longestM]: readonly [number, number],
  spacingM: number,
): number {
  const to = (Math.PI * spacingM) / shortestM;
  const end = Math.min(to, FAR);
  // The phase of a reading spacing at the long end of the band.
  const edge = (Math.PI * spacingM) / longestM;
  const pairs = Math.ceil((end * STEPS_PER_UNIT) / 2);
  const step = end / (2 * pairs);
  let sum = curvatureDensity(end, edge);
  for (let i = 1; i < 2 * pairs; i++) sum += (i % 2 === 1 ? 4 : 2) * curvatureDensity(i * step, edge);
  // Beyond, sin^4 counts by its mean.
  const tail = to > FAR ? (3 / 8) * (1 / FAR - 1 / to) : 0;
  return Math.min(1, ((sum * step) / 3 + tail) / WHOLE);
}

/** sin^4(u) / u^2 behind the high-pass, for u = pi n d > 0. */
function curvatureDensity(u: number, edge: number): number {
  const passed = edge === 0 ? 1 : 1 - 1 / (1 + (u / edge) ** 8);
  return (passed ** 2 * Math.sin(u) ** 4) / u ** 2;
}

/**
 * Flatness of the floor under a run.
 *
 * Each wheel line is a line of the survey, read at every step; lines are combined by 1 / F^2. Without deck roll the mean of both is
 * read, which may be up to 1.4 times flatter than either.
 *
 * @param profile not changed
 * @param bandM shortest and longest wavelength that it holds, m
 */
export function flatness(
  profile: SurfaceProfile,
  bandM: readonly [number, number],
  { betweenJointsM3, asRolledM3 }: FloorRoughness,
): Flatness {
  const equivalentFF = flatnessFF(betweenJointsM3);
  const heldShare = heldCurvatureShare(bandM, FLATNESS_SPACING_M);
  const equivalent = {
    equivalentFF,
    equivalentAsRolledFF: asRolledM3 === null ? null : flatnessFF(asRolledM3),
    spacingM: FLATNESS_SPACING_M,
    heldShare,
  };
  const nothing = {
    ...equivalent,
    profileFF: null,
    band: flatnessBand(equivalentFF),
    readings: 0,
    curvatureMeanM: null,
    curvatureSdM: null,
    change95M: null,
    freeMovement: null,
  };
  const { stepM, lengthM } = profileExtent(profile);
  const reason = whyNot(bandM, heldShare, stepM, lengthM);
  if (reason !== null) return { ...nothing, reason };
  const lines = profileLines(profile).map((line) => lineFlatness(line, stepM));
  if (lines.some(({ errorShare }) => !(errorShare < MOST_ERROR_SHARE)))
    return {
      ...nothing,
      reason: flatnessTexts.errorTooLarge,
    };
  const profileFF = combinedFlatness(lines);
  const worstM = Math.max(...lines.map((line) => line.change95M));
  return {
    ...equivalent,
    profileFF,
    band: flatnessBand(profileFF),
    reason: null,
    readings: lines.reduce((sum, { readings }) => sum + readings, 0),
    curvatureMeanM: mean(lines.map(({ meanM }) => meanM)),
    curvatureSdM: rms(lines.map(({ sdM }) => sdM)),
    change95M: worstM,
    freeMovement: freeMovement(worstM),
  };
}

/**
 * One line of the survey. The profile is the likeliest one, whose curvature varies less than the floor's by its error: that variance
 * is added back. On made-up passes the deviation was then within 3 % of what the band holds.
 */
function lineFlatness(
  { heightM, sdM: errorM }: ProfileLine,
  stepM: number,
): CurvatureStatistics & {
  readonly flatness: number;
  readonly change95M: number;
  readonly errorShare: number;
} {
  const read = curvatureStatistics(
    curvaturesAlong(heightM, stepM, FLATNESS_SPACING_M),
    Math.floor(FLATNESS_SPACING_M / stepM),
  );
  const sdM = Math.hypot(read.sdM, CURVATURE_ERROR * rms(errorM));
  const statistics = { ...read, sdM };
  const readChangeM = change95M(curvaturesAlong(heightM, stepM, FREE_MOVEMENT_SPACING_M));
  return {
    ...statistics,
    flatness: flatnessNumber(statistics),
    change95M: (readChangeM * sdM) / read.sdM,
    errorShare: (CURVATURE_ERROR * rms(errorM)) / sdM,
  };
}

function whyNot(
  [shortestM, longestM]: readonly [number, number],
  heldShare: number,
  stepM: number,
  lengthM: number,
): string | null {
  if (heldShare < LEAST_HELD_SHARE || stepM > FREE_MOVEMENT_SPACING_M) {
    return flatnessTexts.tooFewWaves(
      shortestM.toFixed(2),
      longestM.toFixed(2),
      (100 * heldShare).toFixed(0),
      100 * LEAST_HELD_SHARE,
    );
  }
  if (lengthM < LEAST_LINE_M) return flatnessTexts.lineTooShort(lengthM.toFixed(1), LEAST_LINE_M);
  return null;
}
