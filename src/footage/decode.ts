/** Decodes a range of a clip to grey frames at the analysis size, with time stamps in seconds from the start of the clip. */
import type { Warning } from '../run/index.js';
import { analysisSize } from './analysis-size.js';
import { checkRange } from './clip-range.js';
import { applyStretch, AS_IT_IS, chooseContrast, stretchTable } from './contrast.js';
import { lowContrast } from './decode-warnings.js';
import { scaledLook } from './frame-look.js';
import { framesInRange } from './frames-in-range.js';
import type { ClipFacts, GreyFrame, Tools } from './types.js';

/** What to decode; everything has a default. */
export interface DecodeOptions {
  /** Widest the grey frames may be; default 960. Smaller clips keep their own width. */
  readonly analysisWidthPx?: number | undefined;
  /** First moment of the range, seconds from the start of the clip; default 0. */
  readonly inS?: number | undefined;
  /** End of the range: the first moment left out; default the end. Later than the end means the end. */
  readonly outS?: number | undefined;
  readonly signal?: AbortSignal | undefined;
  /** auto stretches flat pictures (log curves, haze), off never does; default auto. */
  readonly stretchContrast?: 'auto' | 'off' | undefined;
  /** Called before the first frame. */
  readonly onStart?: ((record: DecodeRecord) => void) | undefined;
  /** Codes: low-contrast, clip-truncated, clip-damaged, time-stamps-repeat, time-stamps-jump. */
  readonly onWarning?: ((warning: Warning) => void) | undefined;
}

/** What is done to the pictures. */
export interface DecodeRecord {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Factor on grey differences against the picture as it is; 1 means untouched. */
  readonly contrastGain: number;
}

/** Default of `analysisWidthPx`. */
export const ANALYSIS_WIDTH_PX = 960;

/** Size that the frames of a clip are decoded to. */
export function decodedSize(
  facts: ClipFacts,
  { analysisWidthPx = ANALYSIS_WIDTH_PX }: Pick<DecodeOptions, 'analysisWidthPx'>,
): { widthPx: number; heightPx: number } {
  return analysisSize(facts, analysisWidthPx);
}

/**
 * Grey frames of the range [inS, outS), none dropped, none doubled, in order of showing.
 *
 * Clip time 0 is the first frame of the clip; a frame belongs to the range by its own time stamp, with a
 * millisecond (at most a quarter frame) allowed for containers that round. Pictures are upright, with square
 * pixels, deinterlaced to one frame per frame, scaled by area to even sizes. Frames are decoded no faster than they
 * are taken; leaving the loop or firing the signal ends FFmpeg. Grey is the luma as coded, brought to full range:
 * 0 black, 255 white. Footage of more than 8 bits and stretched footage is brought to 8 bits in one rounding.
 *
 * A damaged or cut file gives the frames there are, then a warning.
 *
 * @throws TrundleError 'range-invalid', 'clip-too-short' (fewer than two frames in the range), 'decode-failed',
 * 'interrupted'
 */
export async function* decodeGrey(
  file: string,
  facts: ClipFacts,
  options: Readonly<DecodeOptions>,
  tools: Tools,
): AsyncGenerator<GreyFrame, DecodeRecord, undefined> {
  const range = checkRange(file, facts, options);
  const { signal, onWarning = () => {} } = options;
  const size = decodedSize(facts, options);
  const framesAs = (pixels: 'gray' | 'gray16le'): ReturnType<typeof framesInRange> => {
    const look = scaledLook(facts, size.widthPx, size.heightPx, pixels);
    return framesInRange(file, facts, { range, look, signal, onWarning }, tools);
  };
  // FFmpeg's own way from more than 8 bits to 8 adds a fixed dither pattern, which would look like a still picture.
  let pixels: 'gray' | 'gray16le' = facts.bitDepth > 8 ? 'gray16le' : 'gray';
  // FFmpeg takes its time to start: it does so while the contrast is looked at, which most clips keep.
  let frames = framesAs(pixels);
  let coming = frames.next();
  coming.catch(() => undefined);
  try {
    const contrast =
      options.stretchContrast === 'off' ? AS_IT_IS : await chooseContrast(file, facts, range, tools, signal);
    const record: DecodeRecord = { ...size, contrastGain: contrast.contrastGain };
    if (record.contrastGain !== 1) {
      onWarning(lowContrast(record.contrastGain));
      if (pixels === 'gray') {
        await frames.return();
        pixels = 'gray16le';
        frames = framesAs(pixels);
        coming = frames.next();
      }
    }
    options.onStart?.(record);
    const table = pixels === 'gray16le' ? stretchTable(contrast) : null;
    for (let step = await coming; !step.done; step = await frames.next()) {
      const { index, timeS, type, bytes, release } = step.value;
      const grey = table ? applyStretch(new Uint16Array(bytes.buffer), table) : bytes;
      yield { index, timeS, type, ...size, grey, release };
    }
    return record;
  } finally {
    await frames.return();
  }
}
