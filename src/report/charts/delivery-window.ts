/**
 * Where the delivered picture lies in a frame of the clip: the border of the crop window, taken back through the frame's
 * correction, as fractions of the frame (0 left or top, 1 right or bottom).
 */
import type { Camera } from '../../optics/index.js';
import { sourcePlaces, turnOfFrame, type Corrections } from '../../stabilise/index.js';

/** What is needed of a stabilisation plan. */
export interface WindowPlan {
  readonly camera: Camera;
  readonly corrections: Corrections;
  readonly zoom: number;
  readonly delivery: { readonly widthPx: number; readonly heightPx: number };
}

/** Points on each side of the window: a lens that bends lines, or rows that were read one by one, bend it. */
const POINTS_PER_SIDE = 8;
const CORNERS = [
  [-1, -1],
  [1, -1],
  [1, 1],
  [-1, 1],
] as const;

/**
 * The window in one frame.
 *
 * @param sample 0-based sample of the corrections
 * @param share of its width and height, about its middle: 1 for the whole window, less for an area inside it
 * @returns x and y of points around the window, clockwise from top left
 * @throws RangeError when there is no such sample
 */
export function deliveryWindow(plan: WindowPlan, sample: number, share = 1): Float64Array {
  const { camera, corrections, zoom, delivery } = plan;
  const { widthPx, heightPx } = camera;
  const shape = delivery.heightPx / delivery.widthPx;
  const halfWidth = (share * Math.min(widthPx / 2, heightPx / 2 / shape)) / zoom;
  const count = CORNERS.length * POINTS_PER_SIDE;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const [fromX, fromY] = CORNERS[Math.floor(i / POINTS_PER_SIDE)];
    const [toX, toY] = CORNERS[(Math.floor(i / POINTS_PER_SIDE) + 1) % CORNERS.length];
    const along = (i % POINTS_PER_SIDE) / POINTS_PER_SIDE;
    x[i] = (widthPx - 1) / 2 + halfWidth * (fromX + (toX - fromX) * along);
    y[i] = (heightPx - 1) / 2 + halfWidth * shape * (fromY + (toY - fromY) * along);
  }
  const sourceX = new Float64Array(count);
  const sourceY = new Float64Array(count);
  sourcePlaces(turnOfFrame(corrections, sample), camera, x, y, sourceX, sourceY);
  const out = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    // Pixel centres lie on whole numbers, so the frame reaches from -0.5 to width - 0.5.
    out[2 * i] = (sourceX[i] + 0.5) / widthPx;
    out[2 * i + 1] = (sourceY[i] + 0.5) / heightPx;
  }
  return out;
}
