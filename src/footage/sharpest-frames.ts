/** Looks at a clip in stretches of time and gives the sharpest grey frame of each. */
import { decodeGrey } from './decode.js';
import type { ClipFacts, GreyFrame, Tools } from './types.js';

/** How to look. */
export interface SharpestFramesOptions {
  /** Into how many stretches of equal length the clip is cut; a clip of unknown length is cut every quarter second. */
  readonly stretches: number;
  /** Widest the frames may be; smaller clips keep their own width. */
  readonly analysisWidthPx: number;
  readonly signal?: AbortSignal | undefined;
}

const UNKNOWN_LENGTH_STRETCH_S = 0.25;
/** One row in so many is looked at. */
const ROW_STEP = 4;

/**
 * The sharpest frame of each stretch, in order; a stretch without a frame gives none.
 * @throws TrundleError as decodeGrey does
 */
export async function* sharpestFrames(
  facts: ClipFacts,
  { stretches, analysisWidthPx, signal }: Readonly<SharpestFramesOptions>,
  tools: Tools,
): AsyncGenerator<GreyFrame, void, undefined> {
  const stretchS = facts.durationS > 0 ? facts.durationS / stretches : UNKNOWN_LENGTH_STRETCH_S;
  let best: { frame: GreyFrame; sharpness: number; stretch: number } | null = null;
  for await (const frame of decodeGrey(facts.file, facts, { analysisWidthPx, signal }, tools)) {
    const stretch = Math.floor(frame.timeS / stretchS);
    if (best && best.stretch !== stretch) {
      yield best.frame;
      best = null;
    }
    const sharpness = sharpnessOf(frame);
    if (!best || sharpness > best.sharpness) best = { frame, sharpness, stretch };
  }
  if (best) yield best.frame;
}

/** Mean square of the differences between neighbours, which blur takes away; for comparing frames of one view. */
function sharpnessOf({ widthPx, heightPx, grey }: GreyFrame): number {
  let sum = 0;
  for (let row = 0; row < heightPx - 1; row += ROW_STEP) {
    for (let at = row * widthPx; at < (row + 1) * widthPx - 1; at++)
      sum += (grey[at + 1] - grey[at]) ** 2 + (grey[at + widthPx] - grey[at]) ** 2;
  }
  return (ROW_STEP * sum) / (widthPx * heightPx);
}
