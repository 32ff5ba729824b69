/** A corner of the frame, enlarged beside itself, so that a crop of a few pixels can be seen: where it stands and what it shows, px. */
import { figure } from '../../run/index.js';
import { firstScreenTexts } from '../../texts/index.js';
import { element, px, textElement } from './svg.js';

/** What the inset is for. */
export interface NarrowCrop {
  /** Crop of the whole, per cent of the width. */
  readonly cropPercent: number;
  /** Columns of the delivery, px: the loss is told in these. */
  readonly deliveryWidthPx: number;
}

/** A box, px of the picture. */
interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The inset: the part of the picture that it shows, the box that it is shown in, what is lost there. */
export interface CornerInset {
  readonly part: Box;
  readonly box: Box;
  /** How many times it enlarges. */
  readonly times: number;
  /** What the frame loses at the side of that corner, px of the delivery. */
  readonly lostPx: number;
  readonly atTop: boolean;
}

/** From this crop on, per cent of the width, the loss is seen without an inset; below the lower one there is none to be seen. */
const SEEN_PERCENT = 3;
const LEAST_PERCENT = 0.05;
/** How large inset and letters are, as shares of the width: in a page, and in a picture that is shown small. */
export const INSET_SIZES = {
  page: { side: 0.28, letters: 0.034 },
  small: { side: 0.4, letters: 0.062 },
} as const;
export type InsetSize = (typeof INSET_SIZES)[keyof typeof INSET_SIZES];
/** Distance of the inset from the edges of the picture (inside the title safe area), as a share of the picture. */
const MARGIN = 0.07;
const TIMES = { least: 4, most: 8 } as const;
/** A crop of one per cent is enlarged so many times. */
const TIMES_AT_ONE_PERCENT = 6;

/** Whether the crop takes an inset to be seen. */
export function isNarrow({ cropPercent }: Pick<NarrowCrop, 'cropPercent'>): boolean {
  return cropPercent >= LEAST_PERCENT && cropPercent < SEEN_PERCENT;
}

/**
 * The inset of the corner that loses most; null where the crop is wide, or nothing.
 * @param window points clockwise from top left, as many on each side, x and y in turn as fractions of the frame
 */
export function cornerInset(
  window: Readonly<ArrayLike<number>>,
  widthPx: number,
  heightPx: number,
  crop: NarrowCrop,
  { side }: InsetSize = INSET_SIZES.page,
): CornerInset | null {
  if (!isNarrow(crop)) return null;
  const perSide = window.length / 8;
  const corners = [0, 1, 2, 3].map((k) => {
    const [right, bottom] = [k === 1 || k === 2, k >= 2];
    const [x, y] = [window[2 * k * perSide], window[2 * k * perSide + 1]];
    return {
      right,
      bottom,
      across: Math.max(0, right ? 1 - x : x),
      down: Math.max(0, bottom ? 1 - y : y),
    };
  });
  const { right, bottom, across } = corners.reduce((most, one) =>
    one.across + one.down > most.across + most.down ? one : most,
  );
  const wanted = Math.round(TIMES_AT_ONE_PERCENT / crop.cropPercent);
  const times = Math.min(TIMES.most, Math.max(TIMES.least, wanted));
  const [width, height] = [side * widthPx, side * heightPx];
  const part = { width: width / times, height: height / times };
  return {
    times,
    lostPx: across * crop.deliveryWidthPx,
    atTop: !bottom,
    part: { ...part, x: right ? widthPx - part.width : 0, y: bottom ? heightPx - part.height : 0 },
    box: {
      width,
      height,
      x: right ? widthPx * (1 - MARGIN) - width : widthPx * MARGIN,
      y: bottom ? heightPx * (1 - MARGIN) - height : heightPx * MARGIN,
    },
  };
}

/** Size of letters in the style of charts, px. */
const CHART_LETTERS_PX = 11;

/**
 * Draws the inset, and the place that it enlarges.
 * @param inside what stands there, in px of the whole picture
 * @param line attributes of a line by its width
 */
export function insetDrawing(
  { part, box, lostPx, atTop }: CornerInset,
  widthPx: number,
  inside: string,
  line: (width: number) => Record<string, string | number>,
  { letters }: InsetSize = INSET_SIZES.page,
): string {
  const { x, y, width, height } = box;
  const scale = (letters * widthPx) / CHART_LETTERS_PX;
  const band = 1.4 * letters * widthPx;
  const bandY = atTop ? y + height - band : y;
  const frames = (of: Box): string[] =>
    ['inset-edge', 'inset-frame'].map((name, i) =>
      element('rect', { class: name, ...of, ...line(i === 0 ? 3 : 1) }),
    );
  return element(
    'g',
    { class: 'inset' },
    ...frames(part),
    element(
      'svg',
      { x, y, width, height, viewBox: [part.x, part.y, part.width, part.height].map(px).join(' ') },
      inside,
    ),
    element(
      'g',
      { class: 'inset-words' },
      element('rect', { class: 'inset-band', x, y: bandY, width, height: band }),
      textElement(
        {
          class: 'inset-label',
          'text-anchor': 'middle',
          'font-size': CHART_LETTERS_PX,
          transform: `translate(${px(x + width / 2)} ${px(bandY + 0.7 * band)}) scale(${px(scale)})`,
        },
        firstScreenTexts.insetLost(figure(lostPx)),
      ),
    ),
    ...frames(box),
  );
}
