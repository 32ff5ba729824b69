/**
 * Whether the tracks that do not go with the scene go together: a second scene, seen from another path, that holds for what the
 * first one left over. A person who fills much of the picture shows so, and so does the room when the person was taken for it.
 *
 * Slips, highlights and noise share no motion. Tracks that miss the first scene by little would fit a second one as well: they are
 * counted only where they miss the first by far and fit the second. Own derivation.
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

/** Tracks with a motion of their own, in the stretch where they are most. */
export interface SecondMotion {
  /** Share of the tracks of the stretch, 0..1. */
  readonly share: number;
  /** First and last frame of the stretch. */
  readonly first: number;
  readonly last: number;
}

/** Stretches that are looked at, and parallax that makes a good one, px at a picture width of 960. */
const STRETCHES = 2;
const ENOUGH_PARALLAX_PX = 4;
const SEEN_IN_STRETCH = 6;
/** Too few to be worth a scene of their own: as a share of the tracks of a stretch, and at least. */
const LEAST_LEFT_SHARE = 0.2;
const FEWEST_LEFT = 20;
/** People bend where rooms do not: noise that both scenes are held against, in that of the first one. */
const LOOSER = 2;
const SEED = 1;

/** Looks through the piece; nothing is changed. Null when no such tracks are found. */
export function secondMotion(obs: Observations, scene: Scene, clip: ClipScale): SecondMotion | null {
  const pairs = clipParallax(obs, clip);
  if (pairs.length === 0) return null;
  const found = startOrder(pairs, ENOUGH_PARALLAX_PX * clip.unitPerPx, STRETCHES)
    .map((pair) => inStretch(obs, scene, pair, sigmaStartOf(clip)))
    .filter((second) => second !== null);
  return found.sort((a, b) => b.share - a.share)[0] ?? null;
}

function inStretch(
  whole: Observations,
  scene: Scene,
  { first, last }: ParallaxPair,
  sigmaStart: number,
): SecondMotion | null {
  const { observations: obs, trackOfWhole } = windowOf(whole, first, last + 1, SEEN_IN_STRETCH);
  const room = sceneWindow(scene, first, last + 1, trackOfWhole);
  const lin = makeLinearisation(obs.count);
  linearise(obs, room, lin);
  const noise = Math.max(residualScale(obs, lin, room.trackWeights), LOWEST_TRACK_SIGMA_SHARE * sigmaStart);
  const inRoom = new Float64Array(obs.trackCount);
  weighTracks(obs, lin, LOOSER * noise, inRoom);
  const left = pickTracks(obs, (i) => inRoom[i] < 0.5);
  if (left.trackCount < Math.max(FEWEST_LEFT, LEAST_LEFT_SHARE * obs.trackCount)) return null;
  const shared = sharedTracks(left, 0, last - first);
  if (shared.track.length < FEWEST_LEFT) return null;
  const pair = { first: 0, last: last - first, ...fitPairRotation(shared) };
  const { fit } = startStretch(left, pair, sigmaStart, SEED);
  const share = (fit.agreementAt(LOOSER * noise) * left.trackCount) / obs.trackCount;
  return { share, first, last };
}
