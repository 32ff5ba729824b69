/**
 * Where the pixels of the output lie in the stabilised picture: from the size of the source (stored pixels), the window
 * and the shape of the delivery to pixels of the camera.
 *
 * Stored pixels and camera pixels show the same picture at two sizes, (x + 0.5) / width being the same in both; a stored
 * pixel that is not square therefore needs no care of its own.
 */
import type { PictureSize } from '../optics/index.js';
import { wholeHalfWidth } from '../stabilise/index.js';
import type { ProofWindow, StabilisedView } from './types.js';

/** Where outputs of one source lie; all sizes in stored pixels. */
export interface OutputWindow {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Camera pixels for each output pixel at a zoom of 1. */
  readonly cameraPerPxX: number;
  readonly cameraPerPxY: number;
  /** Camera pixel at the middle of the output. */
  readonly middleXPx: number;
  readonly middleYPx: number;
}

/**
 * The largest output of the delivery's shape inside the source size.
 *
 * A side is rounded to a multiple of `multiple`; the window shown is then that part of the foretold one which keeps the
 * shape of things, never more.
 *
 * @param source size of the stored picture
 * @param multiple of the sides: 2, or more where the colour is coarser
 * @throws RangeError when the shape is no number above 0 or leaves nothing of the picture
 */
export function outputWindow(
  source: PictureSize,
  { camera, window, shape }: StabilisedView,
  multiple: { readonly x: number; readonly y: number } = { x: 2, y: 2 },
): OutputWindow {
  if (!(shape > 0 && Number.isFinite(shape))) throw new RangeError(`shape must be above 0, got ${shape}`);
  const scaleX = camera.widthPx / source.widthPx;
  const scaleY = camera.heightPx / source.heightPx;
  const whole = wholeHalfWidth(camera, shape);
  const widthPx = nearest((2 * whole) / scaleX, multiple.x, source.widthPx);
  const heightPx = nearest((2 * whole * shape) / scaleY, multiple.y, source.heightPx);
  if (!(widthPx > 0 && heightPx > 0))
    throw new RangeError(`shape ${shape} leaves nothing of ${source.widthPx} x ${source.heightPx} px`);
  const fill = Math.min((2 * whole) / (widthPx * scaleX), (2 * whole * shape) / (heightPx * scaleY));
  const offset = window.kind === 'offCentre' ? window : { offsetXPx: 0, offsetYPx: 0 };
  return {
    widthPx,
    heightPx,
    cameraPerPxX: scaleX * fill,
    cameraPerPxY: scaleY * fill,
    middleXPx: (camera.widthPx - 1) / 2 + offset.offsetXPx,
    middleYPx: (camera.heightPx - 1) / 2 + offset.offsetYPx,
  };
}

/** The zoom at a moment. @param timeS sample times of a moving zoom, length n >= 1, rising; held before and after */
export function zoomAt(window: ProofWindow, timeS: Float64Array, atS: number): number {
  if (window.kind !== 'moving') return window.zoom;
  const { zoom } = window;
  const after = timeS.findIndex((t) => t >= atS);
  if (after === 0) return zoom[0];
  if (after < 0) return zoom[zoom.length - 1];
  const share = (atS - timeS[after - 1]) / (timeS[after] - timeS[after - 1]);
  return zoom[after - 1] + share * (zoom[after] - zoom[after - 1]);
}

/** Camera pixels of output pixels, whole or not, at a zoom; columns of the lengths of xPx and yPx. */
export function cameraPlaces(
  output: OutputWindow,
  zoom: number,
  xPx: Float64Array,
  yPx: Float64Array,
): { xPx: Float64Array; yPx: Float64Array } {
  const { widthPx, heightPx, cameraPerPxX, cameraPerPxY, middleXPx, middleYPx } = output;
  return {
    xPx: xPx.map((x) => middleXPx + ((x - (widthPx - 1) / 2) * cameraPerPxX) / zoom),
    yPx: yPx.map((y) => middleYPx + ((y - (heightPx - 1) / 2) * cameraPerPxY) / zoom),
  };
}

/** The multiple nearest to a side, none beyond `most`. */
function nearest(side: number, multiple: number, most: number): number {
  return Math.min(multiple * Math.floor(most / multiple), multiple * Math.round(side / multiple));
}
