/** How far the pixels of a stabilised picture lie outside the recorded one, stored pixels: the proof that no border shows. */
import type { PictureSize } from '../optics/index.js';
import type { FrameTurn } from '../stabilise/index.js';
import { outputWindow, zoomAt, type OutputWindow } from './output-window.js';
import { SourceGrid, type OutputPoints } from './source-grid.js';
import type { StabilisedView } from './types.js';

/** Measures one frame after another. */
export class OutsideMeter {
  readonly #source: PictureSize;
  readonly #outline: SourceGrid;

  constructor(source: PictureSize, output: OutputWindow, view: StabilisedView) {
    this.#source = source;
    this.#outline = new SourceGrid(source, output, view.camera, outline(output));
  }

  /**
   * Greatest distance by which the middle of an output pixel comes from outside the recorded picture, whose outermost
   * half pixel counts as inside; 0 when all come from inside, Infinity when nothing lies behind one.
   *
   * Only the outermost pixels are looked at, all of them: a warp without folds maps the inside of the output inside.
   */
  distancePx(turn: FrameTurn, zoom: number): number {
    const { widthPx, heightPx } = this.#source;
    const { xPx, yPx } = this.#outline.places(turn, zoom);
    let greatest = 0;
    for (let i = 0; i < xPx.length; i++) {
      const x = Math.max(0, -0.5 - xPx[i], xPx[i] - (widthPx - 0.5));
      const y = Math.max(0, -0.5 - yPx[i], yPx[i] - (heightPx - 0.5));
      const distance = Math.hypot(x, y);
      if (Number.isNaN(distance)) return Infinity;
      if (distance > greatest) greatest = distance;
    }
    return greatest;
  }
}

/**
 * As the meter, for all frames of a clip, without rendering any.
 *
 * @param turns one for each moment, see `correctionAt`
 * @param atS moments of the frames, seconds
 * @returns length of atS, stored px
 */
export function distancesOutside(
  source: PictureSize,
  view: StabilisedView,
  turns: readonly FrameTurn[],
  atS: Float64Array,
): Float64Array {
  const meter = new OutsideMeter(source, outputWindow(source, view), view);
  return atS.map((at, k) => meter.distancePx(turns[k], zoomAt(view.window, view.timeS, at)));
}

/** Middles of the outermost pixels. */
function outline({ widthPx, heightPx }: OutputWindow): OutputPoints {
  const count = 2 * (widthPx + heightPx);
  const xPx = new Float64Array(count);
  const yPx = new Float64Array(count);
  for (let i = 0; i < 2 * widthPx; i++) {
    xPx[i] = i >> 1;
    yPx[i] = (i & 1) * (heightPx - 1);
  }
  for (let i = 0; i < 2 * heightPx; i++) {
    xPx[2 * widthPx + i] = (i & 1) * (widthPx - 1);
    yPx[2 * widthPx + i] = i >> 1;
  }
  return { xPx, yPx };
}
