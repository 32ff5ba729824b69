/**
 * The crop window over a frame of the clip: outside dimmed, the window of this frame solid, those of other frames thin, the safe area
 * inside the delivered picture, and the points that were followed. Each layer is a group of its own class, so that it can be left out.
 */
import { firstScreenTexts } from '../../texts/index.js';
import { cornerInset, insetDrawing, INSET_SIZES, isNarrow, type NarrowCrop } from './corner-inset.js';
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
  /** What the window costs: a narrow loss is shaded darker, and its corner is shown enlarged. */
  readonly crop?: NarrowCrop | null;
}

/** The picture, by which the inset uses it again. */
const PICTURE_ID = 'frame-picture';

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
      ? element('rect', { id: PICTURE_ID, class: 'no-picture', width: widthPx, height: heightPx })
      : element('image', {
          id: PICTURE_ID,
          href: imageUri,
          width: widthPx,
          height: heightPx,
          preserveAspectRatio: 'none',
        }),
    cropOverlay(data, element('use', { href: `#${PICTURE_ID}` })),
    points === null ? '' : pointsLayer(points, widthPx, heightPx),
  );
}

/**
 * The overlay alone with colours of its own, for a picture file; the corner is enlarged where the picture is given, too.
 * @returns SVG text in px of the picture
 */
export function cropOverlayStandalone(
  data: Pick<CropPictureData, 'widthPx' | 'heightPx' | 'others' | 'crop'> & {
    readonly window: Outline;
    readonly imageUri?: string | null;
  },
): string {
  const { widthPx, heightPx, imageUri = null, crop = null } = data;
  const style =
    '.shade{fill:#000;fill-opacity:.6}.shade.slim{fill-opacity:.85}.inset-edge{fill:none;stroke:#000}.inset-frame{fill:none;stroke:#fff}.inset-band{fill:#000;fill-opacity:.8}.inset-label{fill:#fff}.window{fill:none;stroke:#fff}.window-edge{fill:none;stroke:#000}.window-other{fill:none;stroke:#fff;stroke-opacity:.4}';
  const picture =
    imageUri === null
      ? ''
      : element('image', { href: imageUri, width: widthPx, height: heightPx, preserveAspectRatio: 'none' });
  const overlay = cropOverlay({ ...data, crop: picture === '' ? null : crop }, picture, widthPx / 640);
  return svgRoot(
    widthPx,
    heightPx,
    firstScreenTexts.cropWindow,
    element('style', {}, style),
    overlay,
  ).replace('<svg ', `<svg width="${widthPx}" height="${heightPx}" `);
}

type Overlay = Pick<CropPictureData, 'widthPx' | 'heightPx' | 'window' | 'others' | 'safe' | 'crop'>;

/** Lines thinner by this much leave a narrow loss to be seen between the window and the edge of the frame. */
const THIN = 0.5;

/** @param picture what the inset shows below the window */
function cropOverlay(
  { widthPx, heightPx, window, others, safe = null, crop = null }: Overlay,
  picture: string,
  scale?: number,
): string {
  if (window === null) return '';
  const path = (of: Outline): string => outlinePath(of, widthPx, heightPx);
  const line = (name: string, of: Outline, width: number): string =>
    element('path', { class: name, d: path(of), ...stroke(width, scale) });
  const narrow = crop !== null && isNarrow(crop);
  const shade = element('path', {
    class: narrow ? 'shade slim' : 'shade',
    d: shadePath(window, widthPx, heightPx),
    'fill-rule': 'evenodd',
  });
  const outline = (by: number, at = scale): string[] =>
    [
      ['window-edge', 3.4],
      ['window', 1.8],
    ].map(([name, width]) =>
      element('path', { class: name, d: path(window), ...stroke(by * Number(width), at) }),
    );
  const size = scale === undefined ? INSET_SIZES.page : INSET_SIZES.small;
  const inset = crop === null ? null : cornerInset(window, widthPx, heightPx, crop, size);
  // Clipped: a window may reach beyond the frame, and a line along its edge is half outside.
  return element(
    'svg',
    { x: 0, y: 0, width: widthPx, height: heightPx },
    shade,
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
    ...outline(narrow ? THIN : 1),
    inset === null
      ? ''
      : insetDrawing(
          inset,
          widthPx,
          [picture, shade, ...outline(1, scale === undefined ? scale : scale / inset.times)].join(''),
          (width) => stroke(width, scale),
          size,
        ),
  );
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
  return scale === undefined
    ? { 'vector-effect': 'non-scaling-stroke' }
    : { 'stroke-width': String(Number((width * scale).toFixed(4))) };
}
