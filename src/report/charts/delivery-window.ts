/**
 * Where the delivered picture lies in a frame of the clip: the four corners of the crop window, taken back through the frame's
 * stabilising warp, as fractions of the frame (0 left or top, 1 right or bottom).
 */

/** What is needed of a stabilisation plan. */
export interface WindowPlan {
  /** Row-major 3x3 per frame, length 9 n: from clip to stabilised picture before the zoom, px of `frame`. */
  readonly corrections: Float64Array;
  readonly zoom: number;
  readonly frame: { readonly widthPx: number; readonly heightPx: number };
  readonly delivery: { readonly widthPx: number; readonly heightPx: number };
}

/**
 * The window in one frame.
 *
 * @param frameIndex 0-based; the window lies in the middle, unwarped, when the plan has no such frame
 * @returns length 8: x and y of the corners, clockwise from top left
 */
export function deliveryWindow(plan: WindowPlan, frameIndex: number): Float64Array {
  const { widthPx, heightPx } = plan.frame;
  const shape = plan.delivery.heightPx / plan.delivery.widthPx;
  const halfWidth = Math.min(widthPx / 2, heightPx / 2 / shape) / plan.zoom;
  const halfHeight = halfWidth * shape;
  const [cx, cy] = [(widthPx - 1) / 2, (heightPx - 1) / 2];
  const h = plan.corrections.subarray(9 * frameIndex, 9 * frameIndex + 9);
  const back = h.length === 9 ? adjugate(h) : [1, 0, 0, 0, 1, 0, 0, 0, 1];
  const out = new Float64Array(8);
  [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].forEach(([sx, sy], corner) => {
    const x = cx + sx * halfWidth;
    const y = cy + sy * halfHeight;
    const w = back[6] * x + back[7] * y + back[8];
    // Pixel centres lie on whole numbers, so the frame reaches from -0.5 to width - 0.5.
    out[2 * corner] = ((back[0] * x + back[1] * y + back[2]) / w + 0.5) / widthPx;
    out[2 * corner + 1] = ((back[3] * x + back[4] * y + back[5]) / w + 0.5) / heightPx;
  });
  return out;
}

/** The inverse of a 3x3 matrix up to its scale, which a homography does not need. */
function adjugate(m: ArrayLike<number>): number[] {
  return [
    m[4] * m[8] - m[5] * m[7],
    m[2] * m[7] - m[1] * m[8],
    m[1] * m[5] - m[2] * m[4],
    m[5] * m[6] - m[3] * m[8],
    m[0] * m[8] - m[2] * m[6],
    m[2] * m[3] - m[0] * m[5],
    m[3] * m[7] - m[4] * m[6],
    m[1] * m[6] - m[0] * m[7],
    m[0] * m[4] - m[1] * m[3],
  ];
}
