/** Picks the crop windows that a report draws over its frame: the one of that frame, a few of other frames, and its safe area. */
import { deliveryWindow } from './charts/index.js';
import type { ReportBundle } from './types.js';

/** How many windows of other frames are drawn. */
const OTHERS = 24;

/**
 * Parts of the width and height of the delivered picture in which action, and titles, are safe on any screen: SMPTE ST 2046-1:2009, 93
 * and 90 per cent; values from memory.
 */
export const SAFE_SHARES = { action: 0.93, title: 0.9 } as const;

/** Windows as fractions of the frame, x and y of points clockwise from top left; null without any frame. */
export interface CropWindows {
  readonly window: Float64Array | null;
  readonly others: readonly Float64Array[];
  /** Action and title safe area inside the window. */
  readonly safe: readonly [Float64Array, Float64Array] | null;
}

/** The window of the pictured frame (the nearest in time), and windows spread evenly over the range. */
export function cropWindows({
  stabilisation,
  pictureAtS,
}: Pick<ReportBundle, 'stabilisation' | 'pictureAtS'>): CropWindows {
  const { timeS } = stabilisation;
  if (timeS.length === 0) return { window: null, others: [], safe: null };
  const pictured = picturedSample(timeS, pictureAtS);
  const count = Math.min(OTHERS, timeS.length);
  const others = Array.from({ length: count }, (_, k) =>
    deliveryWindow(stabilisation, count === 1 ? 0 : Math.round((k * (timeS.length - 1)) / (count - 1))),
  );
  const part = (share?: number): Float64Array => deliveryWindow(stabilisation, pictured, share);
  return { window: part(), others, safe: [part(SAFE_SHARES.action), part(SAFE_SHARES.title)] };
}

/** The sample nearest in time to the frame that is shown; the one in the middle where none is. @param timeS not empty */
export function picturedSample(timeS: Float64Array, pictureAtS: number | null): number {
  const at = pictureAtS ?? timeS[timeS.length >> 1] ?? 0;
  let nearest = 0;
  for (let i = 1; i < timeS.length; i++)
    if (Math.abs(timeS[i] - at) < Math.abs(timeS[nearest] - at)) nearest = i;
  return nearest;
}
