/** The contact picture as PNG: a report in one picture, to send by message. */
import { cropOverlayStandalone, element, isNarrow, svgRoot } from '../charts/index.js';
import { cropWindows } from '../crop-windows.js';
import { dataUri, encodePicture, rgbImage } from '../picture.js';
import type { ReportBundle } from '../types.js';
import { lightColour } from './chart-style.js';
import { contactDrawing, type Box } from './contact-drawing.js';
import { PICTURE_FONT, useOwnFonts } from './own-fonts.js';

/** Messengers pass on pictures up to here as they are, bytes. */
export const CONTACT_MOST_BYTES = 700_000;
/** Colours of the palette where the picture is larger in full colour; each step costs a little of the frame alone. */
const PALETTES = [256, 160, 96, 48, 24] as const;
/** Of 10: a better palette takes ten times as long and is not seen. */
const PALETTE_EFFORT = 2;

/** Makes the picture, 1080 x 1350 px, sRGB, at most CONTACT_MOST_BYTES. The same bytes for the same bundle and library versions. */
export async function contactPicture(bundle: ReportBundle): Promise<Uint8Array> {
  await useOwnFonts();
  const { default: sharp } = await import('sharp');
  const { svg, frame } = contactDrawing(bundle);
  const layers = frame.heightPx === 0 ? [] : await frameLayers(bundle, frame);
  const pixels = await sharp(Buffer.from(svg))
    .composite(layers)
    .removeAlpha()
    .toColourspace('srgb')
    .raw()
    .toBuffer({ resolveWithObject: true });
  const image = () => sharp(pixels.data, { raw: pixels.info }).withIccProfile('srgb');
  let png = await image().png().toBuffer();
  for (const colours of PALETTES) {
    if (png.length <= CONTACT_MOST_BYTES) break;
    png = await image().png({ palette: true, colours, effort: PALETTE_EFFORT }).toBuffer();
  }
  return png;
}

/** The frame of the clip, or its place where there is none; and the crop window over it. */
async function frameLayers(bundle: ReportBundle, { leftPx, topPx, widthPx, heightPx }: Box) {
  const { run, picture } = bundle;
  const at = { left: leftPx, top: topPx };
  const { window, others } = cropWindows(bundle);
  const base =
    picture === null
      ? Buffer.from(plainFrame(widthPx, heightPx))
      : await (await rgbImage(picture)).resize(widthPx, heightPx, { fit: 'fill' }).png().toBuffer();
  if (run.verdict.grade === 'unmeasurable' || window === null) return [{ input: base, ...at }];
  const { cropPercent, coverable } = run.stabilise;
  const crop = coverable ? { cropPercent, deliveryWidthPx: run.delivery.widthPx } : null;
  // Only the corner that is shown larger needs the picture once more.
  const enlarged = picture !== null && crop !== null && isNarrow(crop);
  const overlay = cropOverlayStandalone({
    widthPx,
    heightPx,
    window,
    others,
    crop,
    imageUri: enlarged ? dataUri(await encodePicture(picture, 'png'), 'image/png') : null,
  }).replace('<svg ', `<svg font-family="${PICTURE_FONT}" `);
  return [
    { input: base, ...at },
    { input: Buffer.from(overlay), ...at },
  ];
}

function plainFrame(widthPx: number, heightPx: number): string {
  const grey = element('rect', { width: widthPx, height: heightPx, fill: lightColour('muted') });
  return svgRoot(widthPx, heightPx, '', grey).replace(
    '<svg ',
    `<svg width="${widthPx}" height="${heightPx}" `,
  );
}
