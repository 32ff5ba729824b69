/**
 * How large a pixel of the delivery looks, minutes of arc, to somebody who watches it: from the size of the delivery in px and
 * the distance in heights of the screen.
 *
 * Design distances are those at which a line of the screen fills about a minute of arc, Recommendations ITU-R BT.500 and
 * BT.2022, in heights of the screen: 6 H for standard definition, 3 to 3.2 H for 1080 lines (3.1 taken), 1.5 H for 2160,
 * 0.75 H for 4320.
 */
import type { PictureSize } from '../../optics/index.js';

/** Lines of a screen, and the distance in its heights. */
const STANDARD_DISTANCES = [
  [480, 6],
  [576, 6],
  [1080, 3.1],
  [2160, 1.5],
  [4320, 0.75],
] as const;

/** Width per height of a television screen. */
const SCREEN_SHAPE = 16 / 9;

/** A delivered picture, and from how far it is watched. */
export interface ViewedPicture extends PictureSize {
  /** In heights of the 16:9 screen, see {@link screenLines}. */
  readonly viewingDistanceHeights: number;
}

/**
 * Lines of the 16:9 screen that shows a delivery pixel by pixel: one as wide as the delivery (a wider picture lies between
 * bars above and below), or as tall when the delivery is narrower than 16:9 (bars at its sides).
 *
 * @example screenLines({ widthPx: 2048, heightPx: 858 }) // 1152
 */
export function screenLines(delivery: PictureSize): number {
  return Math.max(delivery.heightPx, delivery.widthPx / SCREEN_SHAPE);
}

/**
 * The design viewing distance in heights of the 16:9 screen: where a viewer is put who was not told of.
 *
 * Between the line counts of the Recommendations the logarithm of the distance runs straight over that of the lines (own
 * choice: a distance that goes with one over the lines, as the standard ones nearly do, is met exactly). Below 480 and
 * above 4320 lines the viewer stays where the nearest of them puts him.
 *
 * @example viewingDistanceHeights({ widthPx: 1920, heightPx: 1080 }) // 3.1
 */
export function viewingDistanceHeights(delivery: PictureSize): number {
  const lines = screenLines(delivery);
  const above = STANDARD_DISTANCES.findIndex(([known]) => known >= lines);
  if (above < 0) return STANDARD_DISTANCES[STANDARD_DISTANCES.length - 1][1];
  const [upperLines, upper] = STANDARD_DISTANCES[above];
  if (above === 0 || upperLines === lines) return upper;
  const [lowerLines, lower] = STANDARD_DISTANCES[above - 1];
  const share = Math.log(lines / lowerLines) / Math.log(upperLines / lowerLines);
  return lower * (upper / lower) ** share;
}

/**
 * Minutes of arc that one pixel of the delivery fills in the middle of the screen, from where it is watched.
 *
 * @example arcMinutesPerPx({ widthPx: 1920, heightPx: 1080, viewingDistanceHeights: 3.1 }) // 1.0268
 */
export function arcMinutesPerPx(delivery: ViewedPicture): number {
  return arcMinutesPerLine(screenLines(delivery), delivery.viewingDistanceHeights);
}

/** Minutes of arc of one line at a distance in screen heights: atan(1 / (lines distance)). */
export function arcMinutesPerLine(lines: number, distanceHeights: number): number {
  return (Math.atan(1 / (lines * distanceHeights)) * 180 * 60) / Math.PI;
}
