/**
 * Floor-flatness arithmetic of ASTM E1155 on elevations in metres: curvatures, their statistics, FF; and names of the bands that other
 * standards lay over them.
 *
 * Read second-hand: reading spacing, curvature and line rules in a worked survey sheet and excerpts; n - 1 in the deviation, the
 * constant and the rule for combining lines are from memory.
 */
import { quantile } from '../../numerics/index.js';
import { flatnessTexts } from '../../texts/index.js';
import { FLATNESS_CONSTANT_M } from '../roughness/road-profile.js';

/** Mean and deviation of the curvatures of a line, metres. */
export interface CurvatureStatistics {
  readonly meanM: number;
  /** With n - 1. */
  readonly sdM: number;
  /** Curvatures behind them. */
  readonly readings: number;
}

/**
 * Curvatures of elevations at the reading spacing: q_i = (h_i - h_(i-1)) - (h_(i-1) - h_(i-2)), + in a trough, - on a crest.
 *
 * @returns length n - 2; empty for fewer than three elevations
 * @example curvaturesM(Float64Array.of(0, 0.002, 0.001)) // [-0.003]
 */
export function curvaturesM(elevationM: Float64Array): Float64Array {
  return Float64Array.from(
    { length: Math.max(0, elevationM.length - 2) },
    (_, i) => elevationM[i + 2] - 2 * elevationM[i + 1] + elevationM[i],
  );
}

/**
 * Curvatures at every point of a finer profile: readings one spacing before and behind each point, straight between the profile's own.
 * These are all the lines that a survey could begin at different points of the same path.
 *
 * @param heightM heights at even steps
 * @param stepM their distance, shorter than the spacing
 * @param spacingM reading spacing
 * @returns one for each point that has a whole spacing on both sides
 * @throws RangeError when the step is longer than the spacing
 */
export function curvaturesAlong(heightM: Float64Array, stepM: number, spacingM: number): Float64Array {
  if (!(stepM > 0 && stepM <= spacingM))
    throw new RangeError(`stepM must lie in 0 .. ${spacingM}, got ${stepM}`);
  const away = spacingM / stepM;
  // A spacing of whole steps must not lose a point to rounding.
  const reach = Math.ceil(away - 1e-9);
  const behind = reach - away;
  const at = (near: number, far: number): number => near * behind + far * (1 - behind);
  return Float64Array.from({ length: Math.max(0, heightM.length - 2 * reach) }, (_, k) => {
    const i = k + reach;
    const before = at(heightM[i - reach + 1], heightM[i - reach]);
    const after = at(heightM[i + reach - 1], heightM[i + reach]);
    return before - 2 * heightM[i] + after;
  });
}

/**
 * Mean and deviation of curvatures.
 *
 * @param curvatureM at least two for each line
 * @param lines how many lines they were read on: a profile read at every step holds spacing / step of them, and each costs one degree
 * of freedom
 * @throws RangeError when there are too few
 */
export function curvatureStatistics(curvatureM: Float64Array, lines = 1): CurvatureStatistics {
  const readings = curvatureM.length;
  if (!(readings > lines)) throw new RangeError(`${lines} lines need more than ${readings} curvatures`);
  const meanM = curvatureM.reduce((sum, q) => sum + q, 0) / readings;
  const squares = curvatureM.reduce((sum, q) => sum + (q - meanM) ** 2, 0);
  return { meanM, sdM: Math.sqrt(squares / (readings - lines)), readings };
}

/**
 * FF = 116.078 mm / (3 S + |mean|), without unit; higher is flatter, Infinity for a line without curvature.
 *
 * The constant (4.57 in) is from memory; the metric edition may hold 115.8 mm, 0.24 % less.
 *
 * @example flatnessNumber({ meanM: -0.0002727, sdM: 0.0031334, readings: 11 }) // 12.0
 */
export function flatnessNumber({ meanM, sdM }: CurvatureStatistics): number {
  return FLATNESS_CONSTANT_M / (3 * sdM + Math.abs(meanM));
}

/**
 * FF of several lines together: 1 / F^2 is the mean of those of the lines, weighted by their readings (from memory).
 *
 * @throws RangeError without lines
 * @example combinedFlatness([{ flatness: 30, readings: 10 }, { flatness: 20, readings: 10 }]) // 23.53
 */
export function combinedFlatness(
  lines: readonly { readonly flatness: number; readonly readings: number }[],
): number {
  if (lines.length === 0) throw new RangeError('lines must not be empty');
  const readings = lines.reduce((sum, line) => sum + line.readings, 0);
  return Math.sqrt(readings / lines.reduce((sum, line) => sum + line.readings / line.flatness ** 2, 0));
}

const { bands } = flatnessTexts;

/** Bands of ACI 117-10 table 4.8.5.1, lowest FF of each, the flattest first (read on a public copy). */
const FLATNESS_BANDS = [
  { from: 60, name: bands.superFlat },
  { from: 45, name: bands.veryFlat },
  { from: 35, name: bands.flat },
  { from: 25, name: bands.moderatelyFlat },
  { from: 20, name: bands.conventional },
] as const;

/**
 * What ACI 117 calls a floor of this overall FF. The standard wants a levelness number with it and allows single places 3/5 of it;
 * neither is looked at here.
 *
 * @example flatnessBand(36) // 'flat'
 */
export function flatnessBand(flatness: number): string {
  return FLATNESS_BANDS.find(({ from }) => flatness >= from)?.name ?? bands.below;
}

/** Free movement by TR34, 4th edition, table 3.1: property F, change of height difference over 300 mm, m (read on a public page). */
const FREE_MOVEMENT = [
  { name: 'FM1', limitM: 0.0018 },
  { name: 'FM2', limitM: 0.002 },
  { name: 'FM3', limitM: 0.0022 },
  { name: 'FM4', limitM: 0.0024 },
] as const;

/** Spacing of property F, m. */
export const FREE_MOVEMENT_SPACING_M = 0.3;

export type FreeMovement = (typeof FREE_MOVEMENT)[number]['name'];

/**
 * The change of height difference that 95 % of |curvatures| stay within, metres. That property F means this share is our own
 * understanding.
 */
export function change95M(curvatureM: Float64Array): number {
  return quantile(curvatureM.map(Math.abs), 0.95);
}

/** Strictest class of free movement by property F alone (levelness over 3 m, property E, is not looked at); null when none is met. */
export function freeMovement(changeM: number): FreeMovement | null {
  return FREE_MOVEMENT.find(({ limitM }) => changeM <= limitM)?.name ?? null;
}
