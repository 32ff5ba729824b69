/** Black ground and thin lines in planes of luma and chroma: neutral, bright with dark edges, so that they show on any picture. */
import type { PlaneFormat } from '../footage/index.js';
import type { Samples } from '../vision/index.js';

/** A rectangle of pixels, ends left out. */
export interface Rectangle {
  readonly leftPx: number;
  readonly topPx: number;
  readonly rightPx: number;
  readonly bottomPx: number;
}

/** Shares of the way from black to white. */
const BRIGHT = 0.8;
const DARK = 0.1;
/** Rows of picture for one pixel of a line's thickness. */
const ROWS_PER_LINE_PX = 720;

/** Fills all planes with black. */
export function blacken(planes: readonly Samples[], format: PlaneFormat): void {
  planes.forEach((plane, k) => plane.fill(levelOf(format, k, 0)));
}

/** An upright line whose bright part starts at `leftPx`, over the whole height. */
export function drawUpright(planes: readonly Samples[], format: PlaneFormat, leftPx: number): void {
  const thick = thicknessPx(format);
  const line = (fromPx: number, toPx: number, share: number): void =>
    fill(planes, format, { leftPx: fromPx, rightPx: toPx, topPx: 0, bottomPx: format.heightPx }, share);
  line(leftPx - thick, leftPx + 2 * thick, DARK);
  line(leftPx, leftPx + thick, BRIGHT);
}

/** The outline of a rectangle, its bright part just inside; what lies outside `within` is left out. */
export function drawOutline(
  planes: readonly Samples[],
  format: PlaneFormat,
  frame: Rectangle,
  within: Rectangle,
): void {
  const thick = thicknessPx(format);
  outline(planes, format, grown(frame, thick), within, 3 * thick, DARK);
  outline(planes, format, frame, within, thick, BRIGHT);
}

/** One for each 720 rows, never none. */
export function thicknessPx({ heightPx }: PlaneFormat): number {
  return Math.max(1, Math.round(heightPx / ROWS_PER_LINE_PX));
}

function outline(
  planes: readonly Samples[],
  format: PlaneFormat,
  frame: Rectangle,
  within: Rectangle,
  thick: number,
  share: number,
): void {
  const { leftPx, topPx, rightPx, bottomPx } = frame;
  const sides: Rectangle[] = [
    { ...frame, bottomPx: topPx + thick },
    { ...frame, topPx: bottomPx - thick },
    { ...frame, rightPx: leftPx + thick },
    { ...frame, leftPx: rightPx - thick },
  ];
  for (const side of sides) fill(planes, format, common(side, within), share);
}

/** Every sample that covers a pixel of the rectangle. */
function fill(planes: readonly Samples[], format: PlaneFormat, area: Rectangle, share: number): void {
  if (area.rightPx <= area.leftPx || area.bottomPx <= area.topPx) return;
  planes.forEach((plane, k) => {
    const { widthPx, heightPx, stepX, stepY } = format.planes[k];
    const value = levelOf(format, k, share);
    const left = Math.max(0, Math.floor(area.leftPx / stepX));
    const right = Math.min(widthPx, Math.ceil(area.rightPx / stepX));
    const bottom = Math.min(heightPx, Math.ceil(area.bottomPx / stepY));
    for (let y = Math.max(0, Math.floor(area.topPx / stepY)); y < bottom; y++)
      if (right > left) plane.fill(value, y * widthPx + left, y * widthPx + right);
  });
}

/** Level of a neutral grey; ITU-R BT.709 and BT.2100 for the narrow range. */
function levelOf({ bitDepth, colour }: PlaneFormat, plane: number, share: number): number {
  if (plane > 0) return 2 ** (bitDepth - 1);
  return Math.round(
    colour.range === 'tv' ? (16 + 219 * share) * 2 ** (bitDepth - 8) : share * (2 ** bitDepth - 1),
  );
}

function grown({ leftPx, topPx, rightPx, bottomPx }: Rectangle, px: number): Rectangle {
  return { leftPx: leftPx - px, topPx: topPx - px, rightPx: rightPx + px, bottomPx: bottomPx + px };
}

function common(a: Rectangle, b: Rectangle): Rectangle {
  return {
    leftPx: Math.max(a.leftPx, b.leftPx),
    topPx: Math.max(a.topPx, b.topPx),
    rightPx: Math.min(a.rightPx, b.rightPx),
    bottomPx: Math.min(a.bottomPx, b.bottomPx),
  };
}
