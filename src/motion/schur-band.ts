/**
 * The reduced normal equations over the frames, formed and factored: frames are coupled only through tracks that both see, and tracks
 * end, so the matrix is zero outside an envelope. See src/numerics/envelope/.
 */
import { envelopeRows, factorLessOuter, type EnvelopeFactor, type EnvelopeRows } from '../numerics/index.js';
import type { Observations } from './observations.js';

/** Which frames hang together, and how much work a factor is. */
export interface FrameEnvelope {
  readonly rows: EnvelopeRows;
  /** Multiply-adds of forming and factoring. */
  readonly work: number;
}

/** The envelope of the frames that tracks join. */
export function frameEnvelope({ frameCount, trackCount, trackStart, frame }: Observations): FrameEnvelope {
  const first = Int32Array.from({ length: frameCount }, (_, t) => t);
  let work = 0;
  for (let i = 0; i < trackCount; i++) {
    const begin = trackStart[i];
    const end = trackStart[i + 1];
    for (let o = begin; o < end; o++) first[frame[o]] = Math.min(first[frame[o]], frame[begin]);
    work += 54 * (end - begin) ** 2;
  }
  for (let t = 0; t < frameCount; t++) work += 3 * (6 * (t - first[t] + 1)) ** 2;
  return { rows: envelopeRows(first), work };
}

/**
 * Factors S = U - sum Ew Ew^T. Held frames stand alone: what is solved for them means nothing.
 *
 * @param blocks U, damped, 36 numbers per frame
 * @param coupling Ew, see NormalEquations
 * @param held frames marked 1 keep their pose; null moves all
 */
export function factorFrames(
  obs: Observations,
  blocks: Float64Array,
  coupling: Float64Array,
  { rows }: FrameEnvelope,
  held: Uint8Array | null,
): EnvelopeFactor {
  let factor = coupling;
  if (held?.includes(1)) {
    factor = coupling.slice();
    for (let o = 0; o < obs.count; o++) if (held[obs.frame[o]]) factor.fill(0, 18 * o, 18 * o + 18);
  }
  return factorLessOuter(rows, blocks, { groupStart: obs.trackStart, block: obs.frame, factor });
}
