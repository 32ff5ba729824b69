/**
 * The crop window over a frame of the clip: outside dimmed, the window of this frame solid, those of other frames thin, the safe area
 * inside the delivered picture, and the points that were followed. Each layer is a group of its own class, so that it can be left out.
 */
import { firstScreenTexts } from '../../texts/index.js';
import { element, px, svgRoot } from './svg.js';

export type { CropSliderData, CropSliderStep } from './crop-slider-data.js';

/** Points around a window, clockwise from top left, x and y in turn as fractions of the frame. */
export type Outline = Readonly<Float64Array> | readonly number[];

/** The layers that can be left out: the classes of their groups. */
export const CROP_LAYERS = {
  others: 'layer-others',
  safe: 'layer-safe',
  points: 'layer-points',
} as const;

/** Points that were followed, as fractions of the frame; columns of equal length. */
export interface FramePoints {
  readonly pointsX: readonly number[];
  readonly pointsY: readonly number[];
  /** 1 where the fit kept the point, 0 elsewhere. */
  readonly kept: readonly number[];
}

/** What the picture shows. */
export interface CropPictureData {
  readonly label: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Where the picture comes from: a data URI; null draws the window alone. */
  readonly imageUri: string | null;
  /** The window in this frame; null draws the picture alone. */
  readonly window: Outline | null;
  /** The same in other frames. */
  readonly others: readonly Outline[];
  /** Action and title safe area inside the window. */
  readonly safe?: readonly [Outline, Outline] | null;
  readonly points?: FramePoints | null;
}

/** A window as the data of an SVG path, px of the picture. */
export function outlinePath(window: Outline, widthPx: number, heightPx: number): string {
  const points = Array.from(
    { length: window.length / 2 },
    (_, i) => `${px(window[2 * i] * widthPx)} ${px(window[2 * i + 1] * heightPx)}`,
  );
  return `M${points.join('L')}z`;
}

/** All of the frame but its window, for the even-odd rule. */
export function shadePath(window: Outline, widthPx: number, heightPx: number): string {
  return `M0 0H${px(widthPx)}V${px(heightPx)}H0z${outlinePath(window, widthPx, heightPx)}`;
}

/** Draws the window over the picture. @returns SVG text in px of the picture */
export function cropPicture(data: CropPictureData): string {
  const { widthPx, heightPx, imageUri, points = null } = data;
  return svgRoot(
    widthPx,
    heightPx,
    data.label,
    imageUri === null
      ? element('rect', { class: 'no-picture', width: widthPx, height: heightPx })
      : element('image', { href: imageUri, width: widthPx, height: heightPx, preserveAspectRatio: 'none' }),
    cropOverlay(data),
    points === null ? '' : pointsLayer(points, widthPx, heightPx),
  );
}

/** The overlay alone with colours of its own, for a picture file. @returns SVG text in px of the picture */
export function cropOverlayStandalone(
  data: Pick<CropPictureData, 'widthPx' | 'heightPx' | 'others'> & { readonly window: Outline },
): string {
  const { widthPx, heightPx } = data;
  const style =
    '.shade{fill:#000;fill-opacity:.45}.window{fill:none;stroke:#fff}.window-edge{fill:none;stroke:#000}.window-other{fill:none;stroke:#fff;stroke-opacity:.4}';
  const overlay = cropOverlay(data, widthPx / 640);
  return svgRoot(
    widthPx,
    heightPx,
    firstScreenTexts.cropWindow,
    element('style', {}, style),
    overlay,
  ).replace('<svg ', `<svg width="${widthPx}" height="${heightPx}" `);
}

type Overlay = Pick<CropPictureData, 'widthPx' | 'heightPx' | 'window' | 'others' | 'safe'>;

function cropOverlay({ widthPx, heightPx, window, others, safe = null }: Overlay, scale?: number): string {
  if (window === null) return '';
  const path = (of: Outline): string => outlinePath(of, widthPx, heightPx);
  const line = (name: string, of: Outline, width: number): string =>
    element('path', { class: name, d: path(of), ...stroke(width, scale) });
  return [
    element('path', { class: 'shade', d: shadePath(window, widthPx, heightPx), 'fill-rule': 'evenodd' }),
    element(
      'g',
      { class: CROP_LAYERS.others },
      ...others.map((other) => line('window-other', other, 0.6)),
      // Drawn by the slider of the page, which moves the window.
      scale === undefined ? element('path', { class: 'window-deciding', ...stroke(1) }) : '',
    ),
    safe === null
      ? ''
      : element(
          'g',
          { class: CROP_LAYERS.safe },
          ...safe.flatMap((area, i) =>
            ['safe-edge', i === 0 ? 'safe-action' : 'safe-title'].map((name) =>
              element('path', { class: `${name} safe-${i}`, d: path(area), ...stroke(1, scale) }),
            ),
          ),
        ),
    line('window-edge', window, 3.4),
    line('window', window, 1.8),
  ].join('');
}

/** Half the size of a cross, as a share of the width of the picture. */
const CROSS_SHARE = 0.0048;

/** Dots and crosses, white with a dark edge: a stroke without length and with round ends is a dot of the same size at any scale. */
function pointsLayer({ pointsX, pointsY, kept }: FramePoints, widthPx: number, heightPx: number): string {
  const arm = CROSS_SHARE * widthPx;
  let dots = '';
  let crosses = '';
  pointsX.forEach((x, i) => {
    const [atX, atY] = [x * widthPx, pointsY[i] * heightPx];
    if (kept[i] === 1) dots += `M${px(atX)} ${px(atY)}h0`;
    else
      for (const down of [1, -1])
        crosses += `M${px(atX - arm)} ${px(atY - down * arm)}L${px(atX + arm)} ${px(atY + down * arm)}`;
  });
  const marks = (kind: string, d: string): string[] =>
    d === '' ? [] : [`${kind}-edge`, kind].map((name) => element('path', { class: name, d, ...stroke(1) }));
  return element(
    'g',
    { class: CROP_LAYERS.points },
    ...marks('point-cross', crosses),
    ...marks('point-dot', dots),
  );
}

function stroke(width: number, scale?: number): Record<string, string | number> {
  return scale === undefined ? { 'vector-effect': 'non-scaling-stroke' } : { 'stroke-width': width * scale };
}
