/** Where the original and the stabilised picture stand in the written one: whole stored pixels, all of them even. */
import type { PictureSize } from '../optics/index.js';
import type { ProofLayout } from './types.js';

/** A piece of a picture and where it is put. */
export interface Placement {
  /** Upper left corner within the picture the piece is taken from. */
  readonly fromXPx: number;
  readonly fromYPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Upper left corner within the written picture. */
  readonly atXPx: number;
  readonly atYPx: number;
}

/** The written picture. */
export interface LayoutPlan extends PictureSize {
  readonly original: Placement | null;
  readonly stabilised: Placement;
  /** Column left of which the original stands, with a line between; null without one. */
  readonly splitXPx: number | null;
  /** The window is drawn on the original. */
  readonly showsWindow: boolean;
}

/**
 * The plan of a layout. Pictures of different sizes are centred on each other: smaller ones on black, in a split the
 * original is cut to the size of the stabilised picture.
 *
 * @param source size of the recorded picture; its last row or column is left out where it is odd
 * @param output size of the stabilised picture, even, not larger than the source
 */
export function planLayout(layout: ProofLayout, source: PictureSize, output: PictureSize): LayoutPlan {
  const original = { widthPx: even(source.widthPx), heightPx: even(source.heightPx) };
  const inset = {
    xPx: even((original.widthPx - output.widthPx) / 2),
    yPx: even((original.heightPx - output.heightPx) / 2),
  };
  const whole = { fromXPx: 0, fromYPx: 0 };
  const here = { atXPx: 0, atYPx: 0 };
  const { widthPx, heightPx } = output;
  switch (layout) {
    case 'alone':
      return {
        ...{ widthPx, heightPx, original: null, splitXPx: null, showsWindow: false },
        stabilised: { ...whole, widthPx, heightPx, ...here },
      };
    case 'beside':
      return {
        widthPx: original.widthPx + widthPx,
        heightPx: original.heightPx,
        original: { ...whole, ...original, ...here },
        stabilised: { ...whole, widthPx, heightPx, atXPx: original.widthPx, atYPx: inset.yPx },
        ...{ splitXPx: null, showsWindow: true },
      };
    case 'above':
      return {
        widthPx: original.widthPx,
        heightPx: original.heightPx + heightPx,
        original: { ...whole, ...original, ...here },
        stabilised: { ...whole, widthPx, heightPx, atXPx: inset.xPx, atYPx: original.heightPx },
        ...{ splitXPx: null, showsWindow: true },
      };
    case 'split': {
      const splitXPx = even(widthPx / 2);
      const right = { fromXPx: splitXPx, fromYPx: 0, atXPx: splitXPx, atYPx: 0 };
      return {
        ...{ widthPx, heightPx, splitXPx, showsWindow: false },
        original: { fromXPx: inset.xPx, fromYPx: inset.yPx, widthPx: splitXPx, heightPx, ...here },
        stabilised: { ...right, widthPx: widthPx - splitXPx, heightPx },
      };
    }
  }
}

function even(px: number): number {
  return 2 * Math.floor(px / 2);
}
