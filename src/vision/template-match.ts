/** Finds a template again in a later picture: place, affine deformation, gain and offset; lengths in pixels. */
import { CONTRAST_FLOOR, UNKNOWNS, type AffineTemplate } from './affine-template.js';
import type { TemplateWindow } from './template-window.js';
import type { SmoothPicture } from './types.js';
import { isInside, sampleWindow, type Placement } from './window-samples.js';

/** Most iterations, the step that ends them, and what may still be to come when each step is as much shorter as the latest was, px. */
export const MATCH_LIMITS = { iterations: 8, stepPx: 0.002, aheadPx: 0.0005 } as const;

/** Weakest gain at which the picture still counts as showing the template. */
export const LEAST_GAIN = 0.2;

/** How a match ended. */
export interface Match {
  /** False when the window left the picture or the template is not in it. */
  readonly found: boolean;
  /** Weighted RMS of the picture less the deformed template, grey levels. */
  readonly residualGrey: number;
  readonly iterations: number;
}

const LOST = { found: false, residualGrey: Infinity };

/** Matches templates of one size; holds scratch memory, so that a match makes no garbage but its answer. */
export class TemplateMatcher {
  readonly #window: TemplateWindow;
  readonly #samples: Float64Array;
  readonly #gradient = new Float64Array(UNKNOWNS);
  readonly #step = new Float64Array(UNKNOWNS);
  #squares = 0;

  constructor(window: TemplateWindow) {
    this.#window = window;
    this.#samples = new Float64Array(window.weights.length);
  }

  /**
   * Moves `place` to where the template lies in the picture, from where it is; at most 8 iterations.
   * Gain and offset are free in each match. After a loss `place` means nothing.
   */
  match(picture: SmoothPicture, template: AffineTemplate, place: Placement): Match {
    const step = this.#step;
    const gradient = this.#gradient;
    const { halfPx } = this.#window;
    let iterations = 0;
    let residualGrey = Infinity;
    let before = 0;
    while (iterations < MATCH_LIMITS.iterations) {
      if (!isInside(picture, place, halfPx)) return { ...LOST, iterations };
      sampleWindow(picture, place, this.#window, this.#samples);
      this.#project(template);
      iterations += 1;
      let explained = 0;
      for (let r = 0; r < UNKNOWNS; r++) {
        let sum = 0;
        for (let c = 0; c < UNKNOWNS; c++) sum += template.inverseNormal[r * UNKNOWNS + c] * gradient[c];
        step[r] = sum;
        explained += sum * gradient[r];
      }
      residualGrey = Math.sqrt(Math.max(0, this.#squares - explained));
      const gain = 1 + step[6] / (template.contrastGrey + CONTRAST_FLOOR);
      if (!(gain > LEAST_GAIN)) return { ...LOST, iterations };
      if (!compose(place, step, gain, halfPx)) return { ...LOST, iterations };
      const size = Math.max(Math.abs(step[0]), Math.abs(step[1])) / gain;
      if (size < MATCH_LIMITS.stepPx || size * size < MATCH_LIMITS.aheadPx * before) break;
      before = size;
    }
    return { found: true, residualGrey, iterations };
  }

  /** Weighted products of the samples less the template with the eight columns, and with themselves. */
  #project(template: AffineTemplate): void {
    const { grey, slopeX, slopeY, meanGrey, contrastGrey } = template;
    const { halfPx, rows, rowStepPx, weights } = this.#window;
    const samples = this.#samples;
    const gradient = this.#gradient;
    let [x0, xu, xv, y0, yu, yv, level, offset, squares] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
    let i = 0;
    for (let row = 0; row < rows; row++) {
      const v = (row - (rows - 1) / 2) * rowStepPx;
      let [rowX, rowXu, rowY, rowYu] = [0, 0, 0, 0];
      for (let u = -halfPx; u <= halfPx; u++, i++) {
        const residual = samples[i] - grey[i];
        const weighted = weights[i] * residual;
        const wx = weighted * slopeX[i];
        const wy = weighted * slopeY[i];
        rowX += wx;
        rowXu += wx * u;
        rowY += wy;
        rowYu += wy * u;
        level += weighted * grey[i];
        offset += weighted;
        squares += weighted * residual;
      }
      x0 += rowX;
      xu += rowXu;
      xv += rowX * v;
      y0 += rowY;
      yu += rowYu;
      yv += rowY * v;
    }
    gradient[0] = x0;
    gradient[1] = y0;
    gradient[2] = xu / halfPx;
    gradient[3] = xv / halfPx;
    gradient[4] = yu / halfPx;
    gradient[5] = yv / halfPx;
    gradient[6] = (level - meanGrey * offset) / (contrastGrey + CONTRAST_FLOOR);
    gradient[7] = offset;
    this.#squares = squares;
  }
}

/** Place after the inverse of the step was applied before it; false when the step folds the window. */
function compose(place: Placement, step: Float64Array, gain: number, halfPx: number): boolean {
  const scale = 1 / (gain * halfPx);
  const a = 1 + step[2] * scale;
  const b = step[3] * scale;
  const c = step[4] * scale;
  const d = 1 + step[5] * scale;
  const determinant = a * d - b * c;
  if (!(determinant > 0.1)) return false;
  const { xx, xy, yx, yy } = place;
  place.xx = (xx * d - xy * c) / determinant;
  place.xy = (xy * a - xx * b) / determinant;
  place.yx = (yx * d - yy * c) / determinant;
  place.yy = (yy * a - yx * b) / determinant;
  const dx = step[0] / gain;
  const dy = step[1] / gain;
  place.xPx -= place.xx * dx + place.xy * dy;
  place.yPx -= place.yx * dx + place.yy * dy;
  return true;
}
