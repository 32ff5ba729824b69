/** Picks the crop windows that a report draws over its frame: the one of that frame and a few of other frames. */
import { deliveryWindow } from './charts/index.js';
import type { ReportBundle } from './types.js';

/** How many windows of other frames are drawn. */
const OTHERS = 24;

/** Windows as fractions of the frame, x and y of points clockwise from top left; null without any frame. */
export interface CropWindows {
  readonly window: Float64Array | null;
  readonly others: readonly Float64Array[];
}

/** The window of the pictured frame (the nearest in time), and windows spread evenly over the range. */
export function cropWindows({
  stabilisation,
  pictureAtS,
}: Pick<ReportBundle, 'stabilisation' | 'pictureAtS'>): CropWindows {
  const { timeS } = stabilisation;
  if (timeS.length === 0) return { window: null, others: [] };
  let nearest = 0;
  const at = pictureAtS ?? timeS[timeS.length >> 1] ?? 0;
  for (let i = 1; i < timeS.length; i++)
    if (Math.abs(timeS[i] - at) < Math.abs(timeS[nearest] - at)) nearest = i;
  const count = Math.min(OTHERS, timeS.length);
  const others = Array.from({ length: count }, (_, k) =>
    deliveryWindow(stabilisation, count === 1 ? 0 : Math.round((k * (timeS.length - 1)) / (count - 1))),
  );
  return { window: deliveryWindow(stabilisation, nearest), others };
}
