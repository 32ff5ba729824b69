/**
 * A small window cut out of a grey picture, prepared for finding it again under affine deformation, gain and offset
 * (inverse compositional alignment: Baker and Matthews, IJCV 56, 2004); lengths in pixels, levels in grey levels 0..255.
 */
import { invertSymmetric } from '../numerics/index.js';
import type { TemplateWindow } from './template-window.js';
import type { SmoothPicture } from './types.js';
import { isInside, sampleWindow, type Placement } from './window-samples.js';

/** Unknowns of a match: shift x and y, the four terms of the deformation, gain, offset. */
export const UNKNOWNS = 8;

/** Keeps the normal equations of a window without texture solvable: relative to the diagonal, and grey levels squared. */
const RIDGE = { rel: 1e-6, abs: 1e-6 } as const;

/** A template: grey levels and gradients of its samples, row by row, and the inverse normal matrix of a match. */
export interface AffineTemplate {
  readonly window: TemplateWindow;
  /** Grey levels, and their slopes per pixel along x and y. */
  readonly grey: Float64Array;
  readonly slopeX: Float64Array;
  readonly slopeY: Float64Array;
  /** Weighted mean and standard deviation of the grey levels. */
  readonly meanGrey: number;
  readonly contrastGrey: number;
  /** 8 x 8, unknowns in the order of {@link UNKNOWNS}; deformation per half-width, gain per contrast. */
  readonly inverseNormal: Float64Array;
}

/**
 * Cuts a template about a point that may lie anywhere between the pixels.
 *
 * @returns null when the window does not lie in the picture with 1.5 px to spare
 */
export function cutTemplate(
  picture: SmoothPicture,
  xPx: number,
  yPx: number,
  window: TemplateWindow,
): AffineTemplate | null {
  const { halfPx, weights } = window;
  const upright: Placement = { xPx, yPx, xx: 1, xy: 0, yx: 0, yy: 1 };
  if (!isInside(picture, upright, halfPx + 0.5)) return null;
  const at = (dx: number, dy: number): Float64Array => {
    const samples = new Float64Array(weights.length);
    sampleWindow(picture, { ...upright, xPx: xPx + dx, yPx: yPx + dy }, window, samples);
    return samples;
  };
  const grey = at(0, 0);
  // Slopes over one pixel of the interpolated picture: the same smoothing that a match sees between pixels.
  const [slopeX, slopeY] = [at(0.5, 0), at(0, 0.5)];
  const [before, above] = [at(-0.5, 0), at(0, -0.5)];
  let meanGrey = 0;
  for (let i = 0; i < grey.length; i++) {
    slopeX[i] -= before[i];
    slopeY[i] -= above[i];
    meanGrey += weights[i] * grey[i];
  }
  let variance = 0;
  for (let i = 0; i < grey.length; i++) variance += weights[i] * (grey[i] - meanGrey) ** 2;
  const contrastGrey = Math.sqrt(variance);
  const shape = { window, grey, slopeX, slopeY, meanGrey, contrastGrey };
  return { ...shape, inverseNormal: invertNormal(normalMatrix(shape)) };
}

/** Upper triangle of the normal matrix, row by row in a whole matrix. */
function normalMatrix(template: Omit<AffineTemplate, 'inverseNormal'>): Float64Array {
  const { window, grey, slopeX, slopeY, meanGrey, contrastGrey } = template;
  const { halfPx, columns, rows, rowStepPx, weights } = window;
  const normal = new Float64Array(UNKNOWNS * UNKNOWNS);
  const row = new Float64Array(UNKNOWNS);
  for (let i = 0; i < grey.length; i++) {
    const u = ((i % columns) - halfPx) / halfPx;
    const v = ((((i / columns) | 0) - (rows - 1) / 2) * rowStepPx) / halfPx;
    row[0] = slopeX[i];
    row[1] = slopeY[i];
    row[2] = slopeX[i] * u;
    row[3] = slopeX[i] * v;
    row[4] = slopeY[i] * u;
    row[5] = slopeY[i] * v;
    row[6] = (grey[i] - meanGrey) / (contrastGrey + CONTRAST_FLOOR);
    row[7] = 1;
    for (let r = 0; r < UNKNOWNS; r++) {
      const wr = weights[i] * row[r];
      for (let c = r; c < UNKNOWNS; c++) normal[r * UNKNOWNS + c] += wr * row[c];
    }
  }
  return normal;
}

/**
 * Inverts a normal matrix of which the upper triangle is given; the rest of it is filled in.
 *
 * @param normal 8 x 8, unknowns as in {@link AffineTemplate}
 */
export function invertNormal(normal: Float64Array): Float64Array {
  for (let r = 0; r < UNKNOWNS; r++) {
    normal[r * UNKNOWNS + r] = normal[r * UNKNOWNS + r] * (1 + RIDGE.rel) + RIDGE.abs;
    for (let c = 0; c < r; c++) normal[r * UNKNOWNS + c] = normal[c * UNKNOWNS + r];
  }
  return invertSymmetric(normal, UNKNOWNS);
}

/** Keeps the column of the gain finite on a window without contrast, grey levels. */
export const CONTRAST_FLOOR = 1e-3;
