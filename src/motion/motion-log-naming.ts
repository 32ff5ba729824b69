/** Whether the columns of a motion log are named as the camera turns: axes that were mixed up, or run the other way round. */
import type { AngularAxis } from '../run/index.js';
import type { AxisNaming } from './motion-log-search.js';
import { dot } from './motion-log-video.js';

/** Correlation that a wrong name must reach, and by how much it must beat the name given. */
const CLEAR_MATCH = 0.7;
const CLEAR_LEAD = 0.3;
/** A column that is the same motion has about the same size; one that only shakes along has not. */
const SAME_SIZE = [0.4, 2.5] as const;

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
    log === camera
      ? `its ${log} runs against the picture (turn its sign)`
      : `its ${log} is the camera's ${camera}${sign < 0 ? ' with the sign turned' : ''}`,
  );
  return `The columns of the log do not follow the camera's axes: ${parts.join(', ')}`;
}

function correlation(a: Readonly<Float64Array>, b: Readonly<Float64Array>): number {
  const energy = Math.sqrt(dot(a, a) * dot(b, b));
  return energy > 0 ? dot(a, b) / energy : 0;
}
