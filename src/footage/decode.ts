/** Decodes a range of a clip to grey frames at the analysis size, with time stamps in seconds from the start of the clip. */
import { TrundleError, type Warning } from '../run/index.js';
import { applyStretch, AS_IT_IS, chooseContrast, stretchTable } from './contrast.js';
import { quoted } from './clip-path.js';
import { decodeFailed, stampedFrames, type DecodeEnd, type StampedFrame } from './stamped-frames.js';
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
  /** Codes: low-contrast, clip-truncated, clip-damaged, time-stamps-repeat. */
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
/** Fewer frames than this short of the stated length is rounding, not loss. */
const FRAMES_SHORT = 4;
/** Containers round time stamps to a millisecond at worst. */
const TICK_S = 0.001;

/**
 * Grey frames of the range [inS, outS), none dropped, none doubled, in order of showing.
 *
 * Clip time 0 is the first frame of the clip; a frame belongs to the range by its own time stamp, with a
 * millisecond (at most a quarter frame) allowed for containers that round. Pictures are upright, with square
 * pixels, deinterlaced to one frame per frame, scaled by area to even sizes. Frames are decoded no faster than they
 * are taken; leaving the loop or firing the signal ends FFmpeg. Grey is full range: 0 black, 255 white, BT.601/709
 * luma as coded. Footage of more than 8 bits and stretched footage is brought to 8 bits in one rounding.
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
  const { widthPx, heightPx } = analysisSize(facts, options.analysisWidthPx ?? ANALYSIS_WIDTH_PX);
  const stretch = options.stretchContrast ?? 'auto';
  const contrast =
    stretch === 'off' ? AS_IT_IS : await chooseContrast(file, facts, [range.inS, range.endS], tools, signal);
  const { contrastGain } = contrast;
  const record: DecodeRecord = { widthPx, heightPx, contrastGain };
  if (contrastGain !== 1) onWarning(lowContrast(contrastGain));
  options.onStart?.(record);

  // FFmpeg's own way from more than 8 bits to 8 adds a fixed dither pattern, which would look like a still picture.
  const isDeep = contrastGain !== 1 || facts.bitDepth > 8;
  const table = isDeep ? stretchTable(contrast) : null;
  const plan = { widthPx, heightPx, pixels: isDeep ? 'gray16le' : 'gray', fromS: range.inS, signal } as const;
  const frames = stampedFrames(file, facts, plan, tools);
  const allowanceS = Math.min(TICK_S, 0.25 / facts.fps);
  let index = 0;
  let lastS = -Infinity;
  let step: IteratorResult<StampedFrame, DecodeEnd>;
  try {
    while (!(step = await frames.next()).done) {
      const { type, bytes } = step.value;
      let { timeS } = step.value;
      if (range.inS > 0 && timeS < range.inS - allowanceS) continue;
      if (timeS >= range.outS - allowanceS) break;
      if (timeS <= lastS) {
        onWarning(repeatedStamp(timeS));
        timeS = lastS + 1 / facts.fps;
      }
      lastS = timeS;
      const grey = table ? applyStretch(new Uint16Array(bytes.buffer), table) : bytes;
      yield { index: index++, timeS, type, widthPx, heightPx, grey };
    }
  } finally {
    await frames.return({ failure: null, faults: [] });
  }
  const end = step.done ? step.value : { failure: null, faults: [] };
  if (index === 0 && (end.failure !== null || end.faults.length > 0)) throw decodeFailed(file, end);
  if (index < 2) throw tooShort(file, facts, index, options);
  const shortS = range.endS - (lastS + 1 / facts.fps);
  const loss = step.done ? lossWarning(file, facts, end, shortS, lastS) : null;
  if (loss) onWarning(loss);
  return record;
}

/**
 * Size of the grey frames: at most `analysisWidthPx` wide and never wider than the clip, even sides, the clip's
 * aspect to the nearest even height.
 */
export function analysisSize(
  facts: Pick<ClipFacts, 'widthPx' | 'heightPx'>,
  analysisWidthPx: number,
): { widthPx: number; heightPx: number } {
  if (!(analysisWidthPx >= 16))
    throw new RangeError(`analysisWidthPx must be at least 16, got ${analysisWidthPx}`);
  const widthPx = 2 * Math.max(1, Math.floor(Math.min(analysisWidthPx, facts.widthPx) / 2));
  const heightPx = 2 * Math.max(1, Math.round((widthPx * facts.heightPx) / facts.widthPx / 2));
  return { widthPx, heightPx };
}

function checkRange(
  file: string,
  facts: ClipFacts,
  { inS = 0, outS = Infinity }: Readonly<DecodeOptions>,
): { inS: number; outS: number; endS: number } {
  const length = facts.durationS > 0 ? facts.durationS : Infinity;
  const lengthText = `the clip ${quoted(file)} is ${seconds(facts.durationS)} long`;
  if (!(inS >= 0))
    throw new TrundleError(
      'range-invalid',
      `The in point ${seconds(inS)} lies before the clip; ${lengthText}.`,
    );
  if (inS >= length) {
    throw new TrundleError(
      'range-invalid',
      `The in point ${seconds(inS)} lies at or beyond the end: ${lengthText}; choose an earlier one.`,
    );
  }
  if (!(outS > inS)) {
    throw new TrundleError(
      'range-invalid',
      `The out point ${seconds(outS)} must come after the in point ${seconds(inS)}; ${lengthText}.`,
    );
  }
  const endS = Math.min(outS, length);
  return { inS, outS, endS: Number.isFinite(endS) ? endS : 0 };
}

function seconds(timeS: number): string {
  return `${timeS.toFixed(3)} s`;
}

function tooShort(
  file: string,
  facts: ClipFacts,
  count: number,
  { inS, outS }: Readonly<DecodeOptions>,
): TrundleError {
  const hasRange = inS !== undefined || outS !== undefined;
  const where = hasRange ? 'The chosen range of the clip' : 'The clip';
  const held = count === 0 ? 'no frame' : 'one frame only';
  const then = hasRange
    ? `the clip is ${seconds(facts.durationS)} long; choose a longer range`
    : 'name a clip of some seconds';
  return new TrundleError('clip-too-short', `${where} ${quoted(file)} holds ${held}; ${then}.`);
}

function lowContrast(contrastGain: number): Warning {
  const text = `The picture is flat (a log curve, haze or dim light); its contrast was raised ${contrastGain.toFixed(1)} times for tracking, the same for every frame.`;
  return { code: 'low-contrast', text, atS: null };
}

function repeatedStamp(atS: number): Warning {
  return {
    code: 'time-stamps-repeat',
    text: `Time stamps of the clip repeat or run backwards at ${seconds(atS)}; the frame was set one frame after the one before.`,
    atS,
  };
}

function lossWarning(
  file: string,
  facts: ClipFacts,
  end: DecodeEnd,
  shortS: number,
  lastS: number,
): Warning | null {
  const missing = Math.round(shortS * facts.fps);
  if (missing >= FRAMES_SHORT) {
    const text = `The clip ${quoted(file)} ends ${seconds(shortS)} (about ${missing} frames) early: it is cut short or damaged; what there is was measured. Copy it again from the card if you can.`;
    return { code: 'clip-truncated', text, atS: lastS };
  }
  if (end.failure === null && end.faults.length === 0) return null;
  const said = end.faults[0] ?? end.failure ?? '';
  return {
    code: 'clip-damaged',
    text: `Parts of the clip ${quoted(file)} are damaged (FFmpeg: ${said}); frames there may be wrong.`,
    atS: null,
  };
}
