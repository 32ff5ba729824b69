/** Encodes pictures for a report: JPEG for a frame of the clip, PNG for the frame with its crop window. */
import type { Sharp } from 'sharp';
import { cropOverlayStandalone } from './charts/index.js';
import type { CropWindows } from './crop-windows.js';
import type { RgbPicture } from './types.js';

/**
 * Encodes a picture; the same bytes for the same picture and library version. A picture that was read from a JPEG file becomes that very
 * file again.
 * @param format jpeg at quality 82, or png without loss
 * @throws RangeError when the picture's size and its bytes do not agree
 */
export async function encodePicture(
  picture: RgbPicture,
  format: 'jpeg' | 'png' = 'jpeg',
): Promise<Uint8Array> {
  if (format === 'jpeg' && picture.jpeg) return picture.jpeg;
  const raw = await rgbImage(picture);
  return format === 'jpeg'
    ? raw.jpeg({ quality: 82, chromaSubsampling: '4:4:4' }).toBuffer()
    : raw.png().toBuffer();
}

/** The picture of a JPEG file. @throws Error when the bytes are no JPEG that can be read */
export async function decodePicture(jpeg: Uint8Array): Promise<RgbPicture> {
  const { default: sharp } = await import('sharp');
  const { data, info } = await sharp(jpeg)
    .removeAlpha()
    .toColourspace('srgb')
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { widthPx: info.width, heightPx: info.height, rgb: new Uint8Array(data), jpeg };
}

/** A small picture to list a run by, JPEG; at most `widthPx` wide, its height in proportion. */
export async function thumbnail(picture: RgbPicture, widthPx: number): Promise<Uint8Array> {
  return (await rgbImage(picture))
    .resize({ width: widthPx, withoutEnlargement: true })
    .jpeg({ quality: 76 })
    .toBuffer();
}

/** The picture with the crop window drawn into it, as PNG. */
export async function encodeCropPicture(
  picture: RgbPicture,
  window: Float64Array,
  others: CropWindows['others'],
): Promise<Uint8Array> {
  const { widthPx, heightPx } = picture;
  const overlay = cropOverlayStandalone({ widthPx, heightPx, window, others });
  return (await rgbImage(picture))
    .composite([{ input: Buffer.from(overlay) }])
    .png({ palette: true, quality: 90 })
    .toBuffer();
}

/** A picture as a data URI. */
export function dataUri(bytes: Uint8Array, type: 'image/jpeg' | 'image/png'): string {
  return `data:${type};base64,${Buffer.from(bytes).toString('base64')}`;
}

/** The picture in the engine. @throws RangeError when its size and its bytes do not agree */
export async function rgbImage({ widthPx, heightPx, rgb }: RgbPicture): Promise<Sharp> {
  if (rgb.length !== 3 * widthPx * heightPx)
    throw new RangeError(
      `A picture of ${widthPx} x ${heightPx} px needs ${3 * widthPx * heightPx} bytes, got ${rgb.length}.`,
    );
  // The engine takes its time to load: answers without a picture do not wait for it.
  const { default: sharp } = await import('sharp');
  return sharp(rgb, { raw: { width: widthPx, height: heightPx, channels: 3 } });
}
