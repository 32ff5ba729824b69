/** Draws a frame as it was shot, with the outline of what is delivered of it; places are fractions of the frame. */

/** Widths of the outline in px of the screen: white within black, seen on any picture. */
const OUTLINE = { whitePx: 1.5, blackPx: 3.5 } as const;
/** How dark what is cropped away gets. */
const SHADE = 'rgba(0, 0, 0, 0.55)';

/** Draws the whole frame onto the whole canvas. @param outline x and y in turn, see `outlineOf`; null draws none */
export function paintShot(
  context: CanvasRenderingContext2D,
  picture: CanvasImageSource,
  outline: Float32Array | null,
): void {
  const { width, height } = context.canvas;
  context.drawImage(picture, 0, 0, width, height);
  if (outline !== null) paintWindow(context, outline);
}

/** Shades what lies outside of the outline, and draws it. */
function paintWindow(context: CanvasRenderingContext2D, outline: Float32Array): void {
  const { width, height, clientWidth } = context.canvas;
  const perPx = clientWidth > 0 ? width / clientWidth : 1;
  const path = new Path2D();
  for (let i = 0; i < outline.length; i += 2) path.lineTo(outline[i] * width, outline[i + 1] * height);
  path.closePath();
  const outside = new Path2D(path);
  outside.rect(0, 0, width, height);
  context.fillStyle = SHADE;
  context.fill(outside, 'evenodd');
  context.lineJoin = 'round';
  context.strokeStyle = '#000';
  context.lineWidth = OUTLINE.blackPx * perPx;
  context.stroke(path);
  context.strokeStyle = '#fff';
  context.lineWidth = OUTLINE.whitePx * perPx;
  context.stroke(path);
}
