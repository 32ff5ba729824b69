/** Renders the proof: a range of a clip, stabilised, as a clip of its own at full resolution, colour and bit depth. */
import {
  decodePlanes,
  encodePlanes,
  evenFrames,
  planeFormatOf,
  timecodeAt,
  type ClipFacts,
  type PlaneFrame,
} from '../footage/index.js';
import { planFrames, type FrameRecipe } from './frame-maker.js';
import { makeFrames } from './frame-pool.js';
import type { ProofHooks, ProofRecord, ProofRequest } from './types.js';

/** Threads that render unless told otherwise. */
export const PROOF_THREADS = 2;

/**
 * Renders the stabilised clip.
 *
 * Every frame is turned back by the correction at its own time, drawn through the window by a Lanczos kernel, plane by
 * plane as stored: neither colours nor depth pass through anything else. Sound of the range, timecode and colour tags
 * go along. The written picture has the stored size of the source, or the largest part of it that has the delivery's shape.
 * Clips of uneven rate are written at their stated rate, see `evenFrames`.
 *
 * Memory holds a few frames per thread. The file appears whole or not at all; the same request gives the same frames
 * whatever the number of threads.
 *
 * @throws RangeError on an option out of range
 * @throws TrundleError 'range-invalid', 'clip-too-short', 'decode-failed', 'output-unwritable', 'interrupted'
 */
export async function renderProof(request: ProofRequest, hooks: ProofHooks): Promise<ProofRecord> {
  const { clip, facts, range, file, layout, codec, quality, ...view } = request;
  const { tools, signal, threads = PROOF_THREADS, onProgress, onWarning } = hooks;
  checkRequest(request, threads);
  const startedMs = performance.now();
  const recipe: FrameRecipe = {
    view: {
      timeS: view.timeS,
      corrections: view.corrections,
      camera: view.camera,
      window: view.window,
      shape: view.shape,
    },
    source: planeFormatOf(facts),
    codec,
    layout,
  };
  const plan = planFrames(recipe);
  const outside = { frames: 0, furthestPx: 0 };
  const decoded = decodePlanes(clip, facts, { ...range, signal, onWarning }, tools);
  try {
    const first = await decoded.next();
    const startS = first.done ? range.inS : first.value.timeS;
    const durationS = lengthS(facts, range.outS) - startS;
    const recorded = evenRate(withFirst(first, decoded), facts, startS, startS + durationS);
    const made = makeFrames(recipe, recorded, { threads, signal });
    const total = Math.max(1, Math.round(durationS * facts.fps));
    let done = 0;
    async function* counted() {
      for await (const { planes, outsidePx } of made) {
        if (outsidePx > 0) outside.frames++;
        outside.furthestPx = Math.max(outside.furthestPx, outsidePx);
        yield { planes };
        done++;
        onProgress?.(done, Math.max(done, total));
      }
    }
    const options = {
      ...{ source: facts, format: plan.written, codec, quality, fpsFraction: facts.fpsFraction },
      sound: facts.hasAudio ? { inS: startS, durationS } : null,
      timecode: timecodeAt(facts, startS),
    };
    try {
      const { frameCount, ...coded } = await encodePlanes(file, options, counted(), tools, signal);
      return {
        ...{ file, layout, codec, frames: frameCount },
        ...{ widthPx: plan.written.widthPx, heightPx: plan.written.heightPx },
        stabilised: { widthPx: plan.stabilised.widthPx, heightPx: plan.stabilised.heightPx },
        ...coded,
        framesOutside: outside.frames,
        furthestOutsidePx: outside.furthestPx,
        secondsPerFrame: (performance.now() - startedMs) / 1000 / frameCount,
      };
    } finally {
      await made.return(undefined);
    }
  } finally {
    await decoded.return();
  }
}

function checkRequest({ timeS, corrections, window }: ProofRequest, threads: number): void {
  const n = timeS.length;
  if (!(Number.isInteger(threads) && threads >= 1))
    throw new RangeError(`threads must be a whole number from 1, got ${threads}`);
  if (n === 0 || corrections.vibration.pan.length !== n)
    throw new RangeError(
      `corrections must have one entry for each of ${n} sample times, got ${corrections.vibration.pan.length}`,
    );
  const zooms = window.kind === 'moving' ? window.zoom : Float64Array.of(window.zoom);
  if (window.kind === 'moving' && zooms.length !== n)
    throw new RangeError(
      `window.zoom must have one entry for each of ${n} sample times, got ${zooms.length}`,
    );
  const bad = zooms.find((zoom) => !(zoom >= 1 && Number.isFinite(zoom)));
  if (bad !== undefined) throw new RangeError(`zoom must be 1 or more, got ${bad}`);
}

/** End of the range, seconds from the start of the clip. */
function lengthS({ durationS, frameCount, fps }: ClipFacts, outS: number): number {
  return Math.min(outS, durationS > 0 ? durationS : frameCount / fps);
}

function evenRate(
  frames: AsyncIterable<PlaneFrame>,
  { variableRate, fpsFraction }: ClipFacts,
  startS: number,
  endS: number,
): AsyncIterable<PlaneFrame> {
  return variableRate ? evenFrames(frames, { fpsFraction, startS, endS }) : frames;
}

/** Puts a value that was taken already back in front. */
async function* withFirst<T>(first: IteratorResult<T, unknown>, rest: AsyncIterable<T>): AsyncGenerator<T> {
  if (first.done) return;
  yield first.value;
  yield* rest;
}
