/** Pictures and rates that nothing can be done with, refused before anything is decoded. */
import { TrundleError } from '../run/index.js';
import { quoted } from './clip-path.js';
import type { ClipFacts } from './types.js';

/** Twice the width of 8K. */
export const LARGEST_SIDE_PX = 16384;
/** Four times 8K; a frame in 8 bits of 4:2:0 takes 200 MB then, and a decoder holds some. */
export const MOST_PIXELS = 2 ** 27;
/** Pixels that are more oblong than this are a slip of the container: anamorphic lenses squeeze by two. */
const MOST_OBLONG = 8;
/** Below this no corner has the surroundings that following it takes. */
export const LEAST_SIDE_PX = 32;
/** The slowest shake that is counted has 0.8 Hz; half of this rate leaves a band above it. */
export const LEAST_FPS = 5;

/**
 * Refuses what no decoder should be started for.
 *
 * @throws TrundleError 'clip-unsupported' for a picture larger than 16384 px on a side or 134 million pixels, or with
 * pixels more than eight times as long as broad
 */
export function refuseHugePicture(
  file: string,
  widthPx: number,
  heightPx: number,
  pixelAspect: number,
): void {
  if (Math.max(widthPx, heightPx) > LARGEST_SIDE_PX || widthPx * heightPx > MOST_PIXELS) {
    throw unsupported(
      `The picture of ${quoted(file)} is ${widthPx} x ${heightPx} px; up to ${LARGEST_SIDE_PX} px a side and ${Math.floor(MOST_PIXELS / 1e6)} million pixels can be read. Export the clip at a smaller size.`,
    );
  }
  if (pixelAspect > MOST_OBLONG || pixelAspect < 1 / MOST_OBLONG) {
    throw unsupported(
      `The pixels of ${quoted(file)} are stated to be ${oblong(pixelAspect)}, which no lens makes; export the clip with square pixels.`,
    );
  }
}

function oblong(pixelAspect: number): string {
  const times = (ratio: number): string => (ratio < 100 ? ratio.toPrecision(2) : ratio.toFixed(0));
  return pixelAspect > 1
    ? `${times(pixelAspect)} times as wide as high`
    : `${times(1 / pixelAspect)} times as high as wide`;
}

/**
 * Refuses a size that FFmpeg itself turned away, which it then no longer tells.
 *
 * @param said FFmpeg's messages
 * @throws TrundleError 'clip-unsupported'
 */
export function refuseImpossiblePicture(file: string, said: string): void {
  const [, width, height] = /Picture size (\d+)x(\d+) (?:is invalid|exceeds)/.exec(said) ?? [];
  if (height !== undefined) refuseHugePicture(file, Number(width), Number(height), 1);
}

/**
 * Refuses a clip in which shake cannot be seen, however good its pictures are.
 *
 * @throws TrundleError 'clip-unsupported' for fewer than 5 frames per second or a picture of less than 32 px on a side
 */
export function requireMeasurable(
  file: string,
  facts: Pick<ClipFacts, 'fps' | 'widthPx' | 'heightPx'>,
): void {
  const { fps, widthPx, heightPx } = facts;
  if (Math.min(widthPx, heightPx) < LEAST_SIDE_PX) {
    throw unsupported(
      `The picture of ${quoted(file)} is ${widthPx} x ${heightPx} px; at least ${LEAST_SIDE_PX} px a side are needed. Use the original, not a thumbnail.`,
    );
  }
  if (fps < LEAST_FPS) {
    throw unsupported(
      `The clip ${quoted(file)} shows ${counted(Number(fps.toPrecision(3)))} a second, too few to see shake: at least ${LEAST_FPS} are needed, and 24 are usual. Film the pass at the rate of the shoot.`,
    );
  }
}

function unsupported(text: string): TrundleError {
  return new TrundleError('clip-unsupported', text);
}

function counted(frames: number): string {
  return frames === 1 ? '1 frame' : `${frames} frames`;
}
