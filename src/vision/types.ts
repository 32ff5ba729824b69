/** What the vision room takes and gives: plain typed arrays, no object of the engine. */
import type { Match } from './template-match.js';
import type { TemplateSize } from './template-window.js';
import type { Placement } from './window-samples.js';

/** A grey picture, row by row; pixel centres on whole numbers, origin in the top left pixel. */
export interface GreyPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Length widthPx * heightPx, 0..255. */
  readonly grey: Uint8Array;
}

/** A grey picture whose levels are not rounded; otherwise like {@link GreyPicture}. */
export interface SmoothPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Length widthPx * heightPx, 0..255. */
  readonly levels: Float32Array;
}

/** A rectangle of whole pixels. */
export interface Area {
  readonly xPx: number;
  readonly yPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Image points as columns of equal length, in pixels. */
export interface Points {
  readonly xPx: Float32Array;
  readonly yPx: Float32Array;
}

/** Points in the other picture; where found is 0 the position means nothing. */
export interface FoundPoints extends Points {
  /** 1 where the iteration converged inside the picture on a window with texture, else 0. */
  readonly found: Uint8Array;
}

/** Settings of the pyramidal Lucas-Kanade step. */
export interface LucasKanadeOptions {
  /** Side of the square window, odd, px at the base of the pyramid and at each level. Default 21. */
  readonly windowPx?: number;
  /** Halvings above the base. Default 3; fewer are used when a level would be smaller than the window. */
  readonly levels?: number;
  /** Most iterations per level. Default 30. */
  readonly iterations?: number;
  /** Stop when a step is shorter than this, px. Default 0.005. */
  readonly epsilonPx?: number;
  /** Where to start looking; default the points themselves. */
  readonly start?: Points;
}

/** Defaults of LucasKanadeOptions. */
export const LUCAS_KANADE_DEFAULTS = { windowPx: 21, levels: 3, iterations: 30, epsilonPx: 0.005 } as const;

/** A small window cut out of a picture, to be found again in later ones under affine deformation, gain and offset. */
export interface Template {
  /** Weighted standard deviation of its grey levels. */
  readonly contrastGrey: number;
  /**
   * Moves `place` to where the template lies in the current picture of its pair, from where it is; at most 8 iterations.
   * Gain and offset are free each time. After a loss `place` means nothing.
   */
  find(place: Placement): Match;
}

/** Cuts templates of one size out of the current picture of a pair. */
export interface TemplateCutter {
  /** A template about a point that may lie between the pixels; null when its window does not lie in the picture with 1.5 px to spare. */
  cut(xPx: number, yPx: number): Template | null;
}

/** Corners as columns of equal length, in reading order, whole pixels. */
export interface Corners {
  readonly xPx: Int32Array;
  readonly yPx: Int32Array;
  readonly strength: Float32Array;
}

/** The current and the previous picture of one clip, so that each is copied and blurred once. Call `close` when done. */
export interface PicturePair {
  readonly widthPx: number;
  readonly heightPx: number;
  /**
   * Takes the next picture and blurs it: the current one becomes the previous one.
   * @param grey length widthPx * heightPx, copied
   * @throws RangeError when the picture has another size
   */
  push(grey: Uint8Array): void;
  /**
   * Changes the light of the previous picture to that of the current one: each level to `gain` times itself plus
   * `offset`, rounded, held at 0 and 255. Points can then be followed across a change of the exposure.
   */
  relightPrevious(gain: number, offset: number): void;
  /** The current picture, blurred but not rounded; a view that the next `push` overwrites. */
  smooth(): SmoothPicture;
  /** Cuts templates of one size. */
  templates(size: TemplateSize): TemplateCutter;
  /** Follows points of the previous picture into the current one. @throws Error before two pictures were pushed */
  forward(points: Points, options?: LucasKanadeOptions): FoundPoints;
  /** Follows points of the current picture back into the previous one. @throws Error before two pictures were pushed */
  backward(points: Points, options?: LucasKanadeOptions): FoundPoints;
  /**
   * Smaller eigenvalue of the gradient matrix over a part of the current picture.
   * @param blockPx side of the square over which gradients are summed, px
   * @returns row by row, length area.widthPx * area.heightPx; equal to that part of the whole map
   * @throws RangeError when the area does not lie in the picture
   */
  cornerStrength(blockPx: number, area: Area): Float32Array;
  /**
   * Corners of the current picture: places whose strength exceeds `floor` and that of each of their eight neighbours.
   * @param area where they may lie; it and the pixels next to it must lie in the picture
   * @throws RangeError when they do not
   */
  corners(blockPx: number, area: Area, floor: number): Corners;
  /** Gives memory back; the pair must not be used afterwards. */
  close(): void;
}
