/**
 * Whether the tracks that do not go with the scene belong together: a person who fills much of the picture, or the room itself when
 * the person was taken for it.
 *
 * Slips, highlights and noise lie anywhere and share no motion. What belongs together lies together, as a person does whose limbs
 * each go their own way, or shares one motion, as the rigid room does around the person. Only tracks that miss the scene by
 * far count: those that miss it by little would fit anything. Own derivation.
 */
import { LOWEST_TRACK_SIGMA_SHARE } from '../adjust.js';
import { fitPairRotation } from '../frame-pair.js';
import { pickTracks, sharedTracks, windowOf, type Observations } from '../observations.js';
import { startOrder, type ParallaxPair } from '../parallax.js';
import { clipParallax, sigmaStartOf, type ClipScale } from '../piece.js';
import { linearise, makeLinearisation } from '../projection.js';
import { residualScale, weighTracks } from '../robust-weights.js';
import { sceneWindow, type Scene } from '../scene.js';
import { startStretch } from '../start.js';

/** Tracks that miss the scene by far, in the stretch where they are most. */
export interface Strangers {
  /** Share of the tracks of the stretch, 0..1. */
  readonly share: number;
  /** How much they lie together: 0 for strewn among the others, 1 for all in one place. */
  readonly together: number;
  /** Share of them that one rigid motion of their own explains, 0..1. */
  readonly rigid: number;
  /** First and last frame of the stretch. */
  readonly first: number;
  readonly last: number;
}

/** Stretches that are looked at, and parallax that makes a good one, px at a picture width of 960. */
const STRETCHES = 3;
const ENOUGH_PARALLAX_PX = 4;
const SEEN_IN_STRETCH = 6;
/** By far: so many times the noise of the tracks that are trusted. */
const FAR = 6;
/** Tracks beside each other, and fewest strangers that can be said to lie together. */
const NEIGHBOURS = 6;
const FEWEST = 20;
const SEED = 1;

/** Looks through the piece; nothing is changed. Null where hardly any track misses the scene by far. */
export function strangers(obs: Observations, scene: Scene, clip: ClipScale): Strangers | null {
  const pairs = clipParallax(obs, clip);
  if (pairs.length === 0) return null;
  const found = startOrder(pairs, ENOUGH_PARALLAX_PX * clip.unitPerPx, STRETCHES)
    .map((pair) => inStretch(obs, scene, pair, sigmaStartOf(clip)))
    .filter((some) => some !== null);
  return found.sort((a, b) => b.share - a.share)[0] ?? null;
}

function inStretch(
  whole: Observations,
  scene: Scene,
  { first, last }: ParallaxPair,
  sigmaStart: number,
): Strangers | null {
  const { observations: obs, trackOfWhole } = windowOf(whole, first, last + 1, SEEN_IN_STRETCH);
  const room = sceneWindow(scene, first, last + 1, trackOfWhole);
  const lin = makeLinearisation(obs.count);
  linearise(obs, room, lin);
  const noise =
    FAR * Math.max(residualScale(obs, lin, room.trackWeights), LOWEST_TRACK_SIGMA_SHARE * sigmaStart);
  const inRoom = new Float64Array(obs.trackCount);
  weighTracks(obs, lin, noise, inRoom);
  const left = pickTracks(obs, (i) => inRoom[i] < 0.5);
  if (left.trackCount < FEWEST) return null;
  return {
    share: left.trackCount / obs.trackCount,
    together: togetherness(obs, inRoom),
    rigid: rigidShare(left, noise, sigmaStart),
    first,
    last,
  };
}

/** Share of strangers among the neighbours of a stranger, freed of what chance gives: middle frame of the stretch. */
function togetherness(obs: Observations, inRoom: Float64Array): number {
  const t = obs.frameCount >> 1;
  const seen = Array.from(obs.byFrame.subarray(obs.frameStart[t], obs.frameStart[t + 1]), (o) => ({
    x: obs.x[o],
    y: obs.y[o],
    isStranger: inRoom[obs.track[o]] < 0.5 ? 1 : 0,
  }));
  const those = seen.filter(({ isStranger }) => isStranger === 1);
  const chance = those.length / Math.max(seen.length, 1);
  if (those.length < FEWEST || chance === 1) return 0;
  let beside = 0;
  for (const one of those) {
    const nearest = seen
      .map((other) => ({ ...other, far: Math.hypot(other.x - one.x, other.y - one.y) }))
      .sort((a, b) => a.far - b.far)
      .slice(1, NEIGHBOURS + 1);
    beside += nearest.reduce((sum, { isStranger }) => sum + isStranger, 0) / NEIGHBOURS;
  }
  return (beside / those.length - chance) / (1 - chance);
}

/** Share of the strangers that one scene of their own explains at a noise. */
function rigidShare(left: Observations, noise: number, sigmaStart: number): number {
  const last = left.frameCount - 1;
  const shared = sharedTracks(left, 0, last);
  if (shared.track.length < FEWEST) return 0;
  const pair = { first: 0, last, ...fitPairRotation(shared) };
  const { fit } = startStretch(left, pair, sigmaStart, SEED);
  return Math.max(0, fit.agreementAt(noise));
}
