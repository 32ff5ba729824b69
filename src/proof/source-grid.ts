/** Where points of the output come from in the recorded picture, frame by frame: stored pixels, exact at every point given. */
import { normalisePoints, type Camera, type PictureSize } from '../optics/index.js';
import { sourcePlacesOfRays, type FrameTurn } from '../stabilise/index.js';
import { cameraPlaces, type OutputWindow } from './output-window.js';

/** Points of the output picture, stored pixels. */
export interface OutputPoints {
  readonly xPx: Float64Array;
  readonly yPx: Float64Array;
}

/** A fixed set of points of the output; the rays through them are kept as long as the zoom stays. */
export class SourceGrid {
  readonly #source: PictureSize;
  readonly #output: OutputWindow;
  readonly #camera: Camera;
  readonly #points: OutputPoints;
  #rays: { x: Float64Array; y: Float64Array } | null = null;
  #raysZoom = 0;
  readonly #places: { readonly xPx: Float64Array; readonly yPx: Float64Array };

  constructor(source: PictureSize, output: OutputWindow, camera: Camera, points: OutputPoints) {
    this.#source = source;
    this.#output = output;
    this.#camera = camera;
    this.#points = points;
    const { length } = points.xPx;
    this.#places = { xPx: new Float64Array(length), yPx: new Float64Array(length) };
  }

  /**
   * Places in the stored picture, in the order of the points; the columns are used again by the next call.
   * NaN where nothing lies behind a point (see `sourcePlaces`).
   */
  places(turn: FrameTurn, zoom: number): { readonly xPx: Float64Array; readonly yPx: Float64Array } {
    if (this.#rays === null || this.#raysZoom !== zoom) {
      const seen = cameraPlaces(this.#output, zoom, this.#points.xPx, this.#points.yPx);
      this.#rays = normalisePoints(this.#camera, seen.xPx, seen.yPx);
      this.#raysZoom = zoom;
    }
    const { xPx, yPx } = this.#places;
    sourcePlacesOfRays(turn, this.#camera, this.#rays, xPx, yPx);
    const scaleX = this.#source.widthPx / this.#camera.widthPx;
    const scaleY = this.#source.heightPx / this.#camera.heightPx;
    for (let i = 0; i < xPx.length; i++) {
      xPx[i] = (xPx[i] + 0.5) * scaleX - 0.5;
      yPx[i] = (yPx[i] + 0.5) * scaleY - 0.5;
    }
    return this.#places;
  }
}
