/** The crop window over a frame of the clip: outside dimmed, the window of this frame solid, those of other frames thin. */
import { element, px, svgRoot } from './svg.js';

/** What the picture shows. */
export interface CropPictureData {
  readonly label: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Where the picture comes from: a data URI; null draws the window alone. */
  readonly imageUri: string | null;
  /** Points around the window in this frame, x and y as fractions; null draws the picture alone. */
  readonly window: Float64Array | null;
  /** The same in other frames. */
  readonly others: readonly Float64Array[];
}

function outline(window: Float64Array, widthPx: number, heightPx: number): string {
  const points = Array.from(
    { length: window.length / 2 },
    (_, i) => `${px(window[2 * i] * widthPx)} ${px(window[2 * i + 1] * heightPx)}`,
  );
  return `M${points.join('L')}z`;
}

/** Draws the window over the picture. @returns SVG text in px of the picture */
export function cropPicture(data: CropPictureData): string {
  const { widthPx, heightPx, imageUri, window, others } = data;
  const frame = `M0 0H${px(widthPx)}V${px(heightPx)}H0z`;
  return svgRoot(
    widthPx,
    heightPx,
    data.label,
    imageUri === null
      ? element('rect', { class: 'no-picture', width: widthPx, height: heightPx })
      : element('image', { href: imageUri, width: widthPx, height: heightPx, preserveAspectRatio: 'none' }),
    window === null
      ? ''
      : cropOverlay(
          frame,
          outline(window, widthPx, heightPx),
          others.map((other) => outline(other, widthPx, heightPx)),
        ),
  );
}

/** The overlay alone with colours of its own, for a picture file. @returns SVG text in px of the picture */
export function cropOverlayStandalone(
  data: Pick<CropPictureData, 'widthPx' | 'heightPx' | 'others'> & { readonly window: Float64Array },
): string {
  const { widthPx, heightPx, window, others } = data;
  const style =
    '.shade{fill:#000;fill-opacity:.45}.window{fill:none;stroke:#fff}.window-edge{fill:none;stroke:#000}.window-other{fill:none;stroke:#fff;stroke-opacity:.4}';
  const scale = widthPx / 640;
  const overlay = cropOverlay(
    `M0 0H${px(widthPx)}V${px(heightPx)}H0z`,
    outline(window, widthPx, heightPx),
    others.map((other) => outline(other, widthPx, heightPx)),
    scale,
  );
  return svgRoot(widthPx, heightPx, 'crop window', element('style', {}, style), overlay).replace(
    '<svg ',
    `<svg width="${widthPx}" height="${heightPx}" `,
  );
}

function cropOverlay(frame: string, window: string, others: readonly string[], scale?: number): string {
  const stroke = (width: number): Record<string, string | number> =>
    scale === undefined ? { 'vector-effect': 'non-scaling-stroke' } : { 'stroke-width': width * scale };
  return [
    element('path', { class: 'shade', d: `${frame}${window}`, 'fill-rule': 'evenodd' }),
    ...others.map((d) => element('path', { class: 'window-other', d, ...stroke(0.6) })),
    element('path', { class: 'window-edge', d: window, ...stroke(3.4) }),
    element('path', { class: 'window', d: window, ...stroke(1.8) }),
  ].join('');
}
