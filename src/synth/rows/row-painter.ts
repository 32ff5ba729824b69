/** What draws the rows of a picture: arrays that the renderer fills for a row, and the loops over its pixels. */
import type { Surface } from '../surface.js';
import type { ViewingRays } from '../viewing-rays.js';

/** Marks a pixel that no surface covers. */
export const NO_SURFACE = 0xffff;

/** What a painter is made for. */
export interface RowSetting {
  /** Surfaces, then cut-outs. */
  readonly all: readonly Surface[];
  readonly rays: ViewingRays;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
  readonly centreXPx: number;
}

/** One picture before it becomes bytes. */
export interface LumaPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Luminance 0..1 (may pass 1), row by row. */
  readonly luma: Float32Array;
  /** Surface shown by most of each pixel: index into surfaces, then cut-outs; NO_SURFACE where there is none. */
  readonly shown: Uint16Array;
}

/** Draws rows. What a row is drawn from stands in arrays of the painter, which whoever draws fills first. */
export interface RowPainter {
  /** Plane table of the surfaces; see projected-surfaces. */
  readonly planes: Float64Array;
  /** Rays of the row: the first widthPx. */
  readonly rayX: Float64Array;
  readonly rayY: Float64Array;
  /** Solid surfaces that may be seen in the row. */
  readonly active: Uint16Array;
  /** Cut-outs that may be seen in the row, half a pixel above and below it included, farthest first. */
  readonly cutouts: Uint16Array;
  /** Decides which surface each pixel of a row shows; all rows come before the first is painted. */
  decideRow(row: number, activeCount: number): void;
  /** Paints a row into a picture. */
  paintRow(row: number, activeCount: number, cutoutCount: number, picture: LumaPicture): void;
}
