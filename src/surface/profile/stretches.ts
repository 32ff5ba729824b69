/** A pass cut into stretches of frames that overlap enough to be solved each by itself; places in metres. */
import type { NoisySeries } from '../deck/lens-path.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import type { Stretch } from './types.js';

/** A stretch of this many frames takes some tenths of a second; a pass up to a quarter longer is not cut. */
const STRETCH_FRAMES = 400;
const UNCUT_SHARE = 1.25;
const LEAST_OVERLAP_FRAMES = 100;
/** Most frames of an overlap: the work goes with the cube of a stretch. */
const MOST_OVERLAP_FRAMES = 400;
/** A stretch is at least this many overlaps long, or little of it is new. */
const OVERLAPS = 1.6;
/** Periods of the cut-off after which the end of a stretch no longer matters to its drift. */
const DRIFT_PERIODS = 1;
/** Frames may be averaged up to this way, m: one frame's way at usual speeds and frame rates. */
const TOGETHER_M = 0.01;

/** Way of one frame, the mean over the deck, metres. */
export function frameStepM({ rearM }: RolledDeck): number {
  return (rearM[rearM.length - 1] - rearM[0]) / (rearM.length - 1);
}

/**
 * How many neighbouring frames are averaged before heights are sought: 1, and more where frames lie so dense (slow dolly, high frame
 * rate) that a stretch could not hold half of the overlap it needs; together they span at most 10 mm.
 */
export function framesTogether(deck: RolledDeck): number {
  // A pass that is solved in one piece needs no overlap.
  if (deck.rearM.length <= UNCUT_SHARE * STRETCH_FRAMES) return 1;
  const needed = Math.floor(wantedOverlap(deck) / MOST_OVERLAP_FRAMES);
  return Math.max(1, Math.min(needed, Math.floor(TOGETHER_M / frameStepM(deck))));
}

/**
 * Cuts a pass into stretches of about 400 frames (or averaged groups of frames), all of one length; one for a short pass.
 *
 * Neighbours share max(2 L / v, 100 frames, L / v and a period of the cut-off on either side), at most 400 frames. They hand
 * over in the middle of what both of them saw under both axles.
 *
 * @returns in order; what they answer for tiles [rear axle at the first frame, front axle at the last]
 */
export function stretchesOf(deck: RolledDeck): Stretch[] {
  const { rearM, frontAheadM } = deck;
  const frameCount = rearM.length;
  const together = framesTogether(deck);
  const overlap = Math.min(together * MOST_OVERLAP_FRAMES, wantedOverlap(deck));
  const longest = Math.max(together * STRETCH_FRAMES, Math.round(OVERLAPS * overlap));
  const count =
    frameCount <= UNCUT_SHARE * longest ? 1 : Math.ceil((frameCount - overlap) / (longest - overlap));
  const length = Math.ceil((frameCount + (count - 1) * overlap) / count);

  const frames = Array.from({ length: count }, (_, i) => {
    const fromFrame = Math.round((i * (frameCount - length)) / Math.max(1, count - 1));
    return { fromFrame, toFrame: fromFrame + length };
  });
  const borders = frames.slice(1).map(({ fromFrame }, i) => {
    const lastBefore = rearM[frames[i].toFrame - 1];
    return (rearM[fromFrame] + frontAheadM + lastBefore) / 2;
  });
  const edges = [rearM[0], ...borders, rearM[frameCount - 1] + frontAheadM];
  return frames.map((stretch, i) => ({ ...stretch, answersM: [edges[i], edges[i + 1]] }));
}

/** Frames that neighbouring stretches should share. */
function wantedOverlap(deck: RolledDeck): number {
  const wheelbase = deck.frontAheadM / frameStepM(deck);
  const drift = (DRIFT_PERIODS * deck.rateHz) / deck.cutoffHz;
  return Math.ceil(Math.max(LEAST_OVERLAP_FRAMES, 2 * wheelbase, wheelbase + 2 * drift));
}

/** The frames of a stretch as a deck of their own, neighbours averaged as {@link framesTogether} says; a rest is left out. */
export function stretchDeck(deck: RolledDeck, { fromFrame, toFrame }: Stretch): RolledDeck {
  const together = framesTogether(deck);
  const count = Math.floor((toFrame - fromFrame) / together);
  const averaged = (column: Readonly<Float64Array>): Float64Array =>
    Float64Array.from({ length: count }, (_, i) => {
      let sum = 0;
      for (let k = 0; k < together; k++) sum += column[fromFrame + i * together + k];
      return sum / together;
    });
  const series = (of: NoisySeries | null): NoisySeries | null =>
    of && {
      values: averaged(of.values),
      noiseSd: of.noiseSd / Math.sqrt(together),
      leastNoiseSd: of.leastNoiseSd / Math.sqrt(together),
    };
  return {
    ...deck,
    rateHz: deck.rateHz / together,
    timeS: averaged(deck.timeS),
    rearM: averaged(deck.rearM),
    pitchRad: series(deck.pitchRad),
    heaveM: series(deck.heaveM),
    rollRad: series(deck.rollRad),
  };
}
