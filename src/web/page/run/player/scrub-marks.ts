/** Marks along the scrubber: joints and bumps under the first axle, and the frame that decides the crop; seconds of the clip to shares of its length. */
import type { RunDocument } from '../../../../run/index.js';
import { exactCrop } from '../../../../stabilise/index.js';
import type { PlayedView } from './frame-mesh.js';

/** A mark. */
export interface ScrubMark {
  readonly kind: 'bump' | 'deciding';
  /** Seconds from the start of the clip. */
  readonly atS: number;
  /** Place along the scrubber: 0 at the first frame, 1 at the last. */
  readonly share: number;
}

/**
 * The marks that fall on the frames, in order of time.
 *
 * @param timeS stamps of the frames, rising; fewer than two give no marks
 * @param decidingS when the deciding frame is shown; null for none
 */
export function scrubMarks(
  { bumps }: Pick<RunDocument['surface'], 'bumps'>,
  decidingS: number | null,
  timeS: readonly number[],
): ScrubMark[] {
  const [first, last] = [timeS[0], timeS[timeS.length - 1]];
  if (!(last > first)) return [];
  const marks = [
    ...bumps.map(({ atS }) => ({ kind: 'bump' as const, atS })),
    ...(decidingS === null ? [] : [{ kind: 'deciding' as const, atS: decidingS }]),
  ];
  return marks
    .filter(({ atS }) => atS >= first && atS <= last)
    .map((mark) => ({ ...mark, share: (mark.atS - first) / (last - first) }))
    .sort((a, b) => a.atS - b.atS);
}

/** A zoom this near to 1 is none: the border of a frame that is not turned errs by rounding. */
const NO_CROP = 1e-9;

/** When the frame is shown that decides the crop of a view, seconds from the start of the clip; null where no frame is turned. */
export function decidingTimeS({ corrections, camera, shape, timeS }: PlayedView): number | null {
  const { worstFrame, zoom } = exactCrop(corrections, camera, shape);
  return worstFrame < 0 || zoom - 1 < NO_CROP ? null : timeS[worstFrame];
}
