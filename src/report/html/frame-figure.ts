/** The frame of the clip with its crop window, safe area and followed points, layers to switch, and the slider for the smoothing. */
import { figure, percentFigure } from '../../run/index.js';
import { firstScreenTexts } from '../../texts/index.js';
import { CROP_LAYERS, cornerInset, cropPicture, type FramePoints, type NarrowCrop } from '../charts/index.js';
import { cropWindows } from '../crop-windows.js';
import type { ReportBundle } from '../types.js';
import { cropSlider } from './crop-slider.js';
import { html, trusted, type Insert, type Markup } from './markup.js';

/** The figure; null where a clip without a verdict has no frame either. @param pictureUri the frame as a data URI, null when there is none */
export function frameFigure(bundle: ReportBundle, pictureUri: string | null): Markup | null {
  const { run, picture, pictureAtS } = bundle;
  const measured = run.verdict.grade !== 'unmeasurable';
  if (!measured && picture === null) return null;
  const { widthPx, heightPx } = picture ?? bundle.stabilisation.camera;
  const at = pictureAtS === null ? null : figure(pictureAtS);
  const windows = measured ? cropWindows(bundle) : { window: null, others: [], safe: null };
  const points = picture === null ? null : bundle.series.frame;
  const { cropPercent, coverable } = run.stabilise;
  const crop = picture === null || !coverable ? null : { cropPercent, deliveryWidthPx: run.delivery.widthPx };
  const svg = cropPicture({
    label: measured
      ? firstScreenTexts.frameWithWindow(at, percentFigure(run.stabilise.cropPercent))
      : firstScreenTexts.frame(at),
    widthPx,
    heightPx,
    imageUri: picture ? pictureUri : null,
    points,
    crop,
    ...windows,
  });
  return html`<figure class="picture frame">
    ${trusted(svg)}
    <figcaption>${caption(bundle, at)}${insetWords(windows.window, crop)}</figcaption>
    ${layers(windows.window !== null, points)} ${measured ? cropSlider(bundle, { widthPx, heightPx }) : null}
  </figure>`;
}

function insetWords(window: Float64Array | null, crop: NarrowCrop | null): string {
  const inset = window === null || crop === null ? null : cornerInset(window, 1, 1, crop);
  return inset === null ? '' : ` ${firstScreenTexts.inset(inset.times)}`;
}

function caption({ run, picture, pictureAtS }: ReportBundle, at: string | null): string {
  if (run.verdict.grade === 'unmeasurable') return firstScreenTexts.captionUnmeasured(at);
  if (picture === null) return firstScreenTexts.captionWithout;
  const { worstFrameS } = run.stabilise;
  const decides =
    pictureAtS !== null && worstFrameS !== null && Math.abs(pictureAtS - worstFrameS) < 1 / run.clip.fps;
  return firstScreenTexts.caption(at, decides);
}

/**
 * A switch for each layer that is drawn; plain boxes, to which the style sheet listens. Some hundred points hide the picture from those who
 * look at it for seconds, so they are asked for.
 */
function layers(window: boolean, points: FramePoints | null): Markup | null {
  const kept = points?.kept.filter((one) => one === 1).length ?? 0;
  const others = html`<span class="either"
    ><span class="when-still">${firstScreenTexts.layerOthers}</span
    ><span class="when-moved">${firstScreenTexts.layerDeciding}</span></span
  >`;
  const shown: [string, Insert][] = [
    ...(window
      ? ([
          [CROP_LAYERS.others, others],
          [CROP_LAYERS.safe, firstScreenTexts.layerSafe],
        ] satisfies [string, Insert][])
      : []),
    ...(points !== null && points.kept.length > 0
      ? ([[CROP_LAYERS.points, firstScreenTexts.layerPoints(kept, points.kept.length - kept)]] satisfies [
          string,
          Insert,
        ][])
      : []),
  ];
  if (shown.length === 0) return null;
  return html`<div class="layers" role="group" aria-label="${firstScreenTexts.layers}">
    ${shown.map(
      ([name, words]) =>
        html`<label
          ><input type="checkbox" name="${name}" ${name === CROP_LAYERS.points ? null : html`checked`} />
          ${words}</label
        >`,
    )}
  </div>`;
}
