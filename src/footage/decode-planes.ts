/** Decodes a range of a clip to planes at full resolution and depth, with time stamps in seconds from the start of the clip. */
import type { Warning } from '../run/index.js';
import { checkRange } from './clip-range.js';
import { nativeLook } from './frame-look.js';
import { framesInRange } from './frames-in-range.js';
import { frameBytesOf, planeFormatOf, type PlaneFormat } from './plane-format.js';
import { turnPlane, type Samples } from './turn-plane.js';
import type { ClipFacts, Tools } from './types.js';

/** What to decode; everything has a default. */
export interface DecodePlanesOptions {
  /** First moment of the range, seconds from the start of the clip; default 0. */
  readonly inS?: number | undefined;
  /** End of the range: the first moment left out; default the end. Later than the end means the end. */
  readonly outS?: number | undefined;
  readonly signal?: AbortSignal | undefined;
  /** Codes: clip-truncated, clip-damaged, time-stamps-repeat, time-stamps-jump. */
  readonly onWarning?: ((warning: Warning) => void) | undefined;
}

/** One frame as planes; see PlaneFormat for how they lie. */
export interface PlaneFrame {
  /** 0 for the first frame of the range. */
  readonly index: number;
  /** Seconds from the start of the clip, from the container. */
  readonly timeS: number;
  /** Luma, then two chroma planes unless grey, each row by row; the receiver owns them. */
  readonly planes: readonly Samples[];
}

/**
 * The frames that decodeGrey gives for the same range, at the same moments, as the planes that `planeFormatOf` tells.
 *
 * Upright and deinterlaced to one frame per frame; not scaled, no level changed. Frames are decoded no faster than
 * they are taken; leaving the loop or firing the signal ends FFmpeg. A damaged or cut file gives the frames there
 * are, then a warning.
 *
 * @throws TrundleError 'range-invalid', 'clip-too-short' (fewer than two frames in the range), 'decode-failed',
 * 'interrupted'
 */
export async function* decodePlanes(
  file: string,
  facts: ClipFacts,
  options: Readonly<DecodePlanesOptions>,
  tools: Tools,
): AsyncGenerator<PlaneFrame, void, undefined> {
  const range = checkRange(file, facts, options);
  const { signal, onWarning = () => {} } = options;
  const format = planeFormatOf(facts);
  // FFmpeg turns by a quarter only what is sampled alike in both directions.
  const turnsHere = facts.rotationDeg % 180 !== 0 && (format.chroma === '440' || format.chroma === '422');
  const delivered = turnsHere ? planeFormatOf({ ...facts, rotationDeg: 0, mirrored: false }) : format;
  const look = nativeLook(facts, frameBytesOf(format), !turnsHere);
  const wanted = { range, look, signal, onWarning };
  for await (const { index, timeS, bytes } of framesInRange(file, facts, wanted, tools)) {
    const stored = cutPlanes(bytes, delivered);
    const planes = turnsHere
      ? stored.map((samples, k) => turnPlane(samples, delivered.planes[k].widthPx, facts))
      : stored;
    yield { index, timeS, planes };
  }
}

/** Views of the planes that lie one after the other in `bytes`. */
function cutPlanes(bytes: Uint8Array<ArrayBuffer>, { planes, bytesPerSample }: PlaneFormat): Samples[] {
  let from = bytes.byteOffset;
  return planes.map(({ widthPx, heightPx }) => {
    const count = widthPx * heightPx;
    const View = bytesPerSample === 1 ? Uint8Array : Uint16Array;
    const view = new View(bytes.buffer, from, count);
    from += count * bytesPerSample;
    return view;
  });
}
