/** Whether the columns of a motion log are named as the camera turns: axes that were mixed up, or run the other way round. */
import { ANGULAR_AXES, type AngularAxis } from '../../run/index.js';
import { logColumnTexts } from '../../texts/index.js';
import { dot } from './video.js';

/** Which axis of the camera a column of the log is taken for, and with which sign. */
export interface AxisNaming {
  readonly log: AngularAxis;
  readonly camera: AngularAxis;
  readonly sign: 1 | -1;
}

/** Correlation that a wrong name must reach, and by how much it must beat the name given. */
const CLEAR_MATCH = 0.7;
const CLEAR_LEAD = 0.3;
/** A column that is the same motion has about the same size; one that only shakes along has not. */
const SAME_SIZE = [0.4, 2.5] as const;
/** A wrong unit shows as a factor of 57.3, to this share of it. */
const UNIT_TOLERANCE = 0.1;

/**
 * The names that the log's columns should have, where they clearly are not what they say.
 *
 * Axes of one rig may shake along with one another, so a column must fit another axis, or its own with the sign turned,
 * much better than its own, and in size too.
 *
 * @param video vibration of the camera's axes, rad
 * @param log vibration of the log's columns on the same frames, rad
 */
export function wrongNames(
  video: ReadonlyMap<AngularAxis, Float64Array>,
  log: ReadonlyMap<AngularAxis, Float64Array>,
): AxisNaming[] {
  const wrong: AxisNaming[] = [];
  for (const [column, logged] of log) {
    const own = video.get(column);
    const ownCorrelation = own ? correlation(own, logged) : 0;
    let best: AxisNaming | null = null;
    let height = 0;
    for (const [camera, seen] of video) {
      const r = correlation(seen, logged);
      const size = Math.sqrt(dot(logged, logged) / dot(seen, seen));
      if (Math.abs(r) < CLEAR_MATCH || size < SAME_SIZE[0] || size > SAME_SIZE[1]) continue;
      if ((camera === column && r > 0) || Math.abs(r) <= height) continue;
      height = Math.abs(r);
      best = { log: column, camera, sign: r > 0 ? 1 : -1 };
    }
    if (best && height > ownCorrelation + CLEAR_LEAD) wrong.push(best);
  }
  return wrong;
}

/** What is wrong with the names, in words. */
export function namingWords(wrong: readonly AxisNaming[]): string {
  const parts = wrong.map(({ log, camera, sign }) =>
    log === camera ? logColumnTexts.turnedRound(log) : logColumnTexts.otherAxis(log, camera, sign < 0),
  );
  return logColumnTexts.misnamed(parts);
}

/**
 * Whether the columns hold another unit than they say: every gain near 180 / pi or its inverse.
 *
 * @param gains of the log over the picture
 * @returns what is wrong, in words, or null
 */
export function unitWords(gains: readonly number[]): string | null {
  const near = (factor: number): boolean =>
    gains.length > 0 && gains.every((gain) => Math.abs(Math.log(gain / factor)) < UNIT_TOLERANCE);
  if (near(180 / Math.PI)) return logColumnTexts.degreesAsRadians;
  if (near(Math.PI / 180)) return logColumnTexts.radiansAsDegrees;
  return null;
}

function correlation(a: Readonly<Float64Array>, b: Readonly<Float64Array>): number {
  const energy = Math.sqrt(dot(a, a) * dot(b, b));
  return energy > 0 ? dot(a, b) / energy : 0;
}

/** Every way to take the log's columns for axes of the camera, with signs; the way they are named comes first. */
export function allNamings(columns: readonly AngularAxis[]): AxisNaming[][] {
  const extend = (rest: readonly AngularAxis[], used: readonly AngularAxis[]): AxisNaming[][] => {
    if (rest.length === 0) return [[]];
    const [log, ...others] = rest;
    const choices = [log, ...ANGULAR_AXES.filter((axis) => axis !== log)].filter(
      (axis) => !used.includes(axis),
    );
    return choices.flatMap((camera) =>
      ([1, -1] as const).flatMap((sign) =>
        extend(others, [...used, camera]).map((tail) => [{ log, camera, sign }, ...tail]),
      ),
    );
  };
  return extend(columns, []);
}
