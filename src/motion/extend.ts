/**
 * Grows a started stretch to the whole clip, half a second at a time, first towards the end and then towards the
 * beginning: pose of each new frame from the known tracks, depth of each new track, then a local adjustment in which
 * the older frames hold still.
 */
import { median } from '../numerics/index.js';
import { adjust, type AdjustOptions } from './adjust.js';
import { windowOf, type Observations } from './observations.js';
import { projectTrack, resect } from './resection.js';
import { blankScene, copyTrack, placeTrack, sceneWindow, writeBack, type Scene } from './scene.js';
import type { StartedStretch } from './start.js';

/** Tracks below this weight do not carry poses on. */
const CARRIER_WEIGHT = 0.3;
const SEEN_IN_WINDOW = 4;
/** Steps below this share of the noise end a local adjustment: all is adjusted together later. */
const STILL_SIGMAS = 0.05;

/** How far each step reaches. */
export interface ExtendOptions {
  readonly sigmaStart: number;
  /** New frames per step, and frames of the local adjustment. */
  readonly hopFrames: number;
  readonly windowFrames: number;
  /** Told how many frames are placed so far. */
  readonly onFrames?: (done: number) => void;
}

/** A scene of the whole clip. */
export interface ExtendedScene {
  readonly scene: Scene;
  /** Frames that no known track reached; their pose repeats the neighbour's. */
  readonly lostFrames: readonly number[];
}

/** Extends a stretch over all frames of `whole`. Tracks that were never placed end with weight 0. */
export function extendToClip(
  whole: Observations,
  start: StartedStretch,
  options: ExtendOptions,
): ExtendedScene {
  const scene = blankScene(whole.frameCount, whole.trackCount);
  const known = new Uint8Array(whole.trackCount);
  const lostFrames: number[] = [];
  writeBack(start.scene, scene, start.first, start.trackOfWhole);
  for (const i of start.trackOfWhole) known[i] = 1;

  // Frames in the order of travel: position p is frame at(p); `done` of them have a pose.
  const grow = (at: (p: number) => number, done: number, total: number): void => {
    while (done < total) {
      const next = Math.min(total, done + options.hopFrames);
      for (let p = done; p < next; p++) {
        const t = at(p);
        const before = at(p - 1);
        scene.rotations.copyWithin(9 * t, 9 * before, 9 * before + 9);
        scene.centres.copyWithin(3 * t, 3 * before, 3 * before + 3);
        const carries = (i: number): boolean => known[i] === 1 && scene.trackWeights[i] > CARRIER_WEIGHT;
        if (!resect(whole, scene, t, carries, options.sigmaStart, 8)) lostFrames.push(t);
      }
      const begin = Math.max(0, next - options.windowFrames);
      const heldCount = begin > 0 ? Math.max(1, done - begin - Math.floor(options.hopFrames / 2)) : 1;
      const isHeld = (p: number): boolean => p < begin + heldCount;
      settle(whole, scene, known, at, begin, done, next, isHeld, options.sigmaStart);
      done = next;
      options.onFrames?.(done);
    }
  };
  grow((p) => start.first + p, start.last - start.first + 1, whole.frameCount - start.first);
  grow((p) => whole.frameCount - 1 - p, whole.frameCount - start.first, whole.frameCount);
  placeUnknown(whole, scene, known);
  return { scene, lostFrames };
}

/** Local adjustment of the positions begin..next-1, of which done..next-1 are new. */
function settle(
  whole: Observations,
  scene: Scene,
  known: Uint8Array,
  at: (p: number) => number,
  begin: number,
  done: number,
  next: number,
  isHeld: (p: number) => boolean,
  sigmaStart: number,
): void {
  const from = Math.min(at(begin), at(next - 1));
  const to = Math.max(at(begin), at(next - 1)) + 1;
  const { observations: obs, trackOfWhole } = windowOf(whole, from, to, SEEN_IN_WINDOW);
  const held = new Uint8Array(to - from);
  for (let p = begin; p < next; p++) if (isHeld(p)) held[at(p) - from] = 1;
  const part = sceneWindow(scene, from, to, trackOfWhole);
  const common: AdjustOptions = {
    sigmaStart,
    iterations: 6,
    stillSigmas: STILL_SIGMAS,
    pcgIterations: 20,
    kernel: 'huber',
    trackWeightsFrom: Infinity,
  };

  // New tracks start at the usual depth of the known ones that the new frames see.
  const isNew = trackOfWhole.map((i) => (known[i] ? 0 : 1));
  if (isNew.includes(1)) {
    const rho = usualInverseDepth(whole, scene, known, at, done, next);
    isNew.forEach((fresh, j) => {
      const o = obs.trackStart[j];
      if (fresh) placeTrack(part, j, obs.frame[o], obs.x[o], obs.y[o], rho);
    });
    const trial = sceneWindow(part, 0, to - from, Int32Array.from(trackOfWhole.keys()));
    adjust(obs, trial, { ...common, tracksOnly: true });
    isNew.forEach((fresh, j) => {
      if (fresh) copyTrack(trial, j, part, j);
    });
  }
  adjust(obs, part, { ...common, iterations: 7, kernel: 'gemanMcClure', trackWeightsFrom: 4, held });
  writeBack(part, scene, from, trackOfWhole);
  for (const i of trackOfWhole) known[i] = 1;
}

/** Median inverse depth, seen from the new frames, of the trusted tracks they see; 1 when there are none. */
function usualInverseDepth(
  whole: Observations,
  scene: Scene,
  known: Uint8Array,
  at: (p: number) => number,
  done: number,
  next: number,
): number {
  const point = { x: new Float64Array(1), y: new Float64Array(1), inverseDepth: new Float64Array(1) };
  const depths: number[] = [];
  for (let p = done; p < next; p++) {
    const t = at(p);
    for (let k = whole.frameStart[t]; k < whole.frameStart[t + 1]; k++) {
      const i = whole.track[whole.byFrame[k]];
      if (!known[i] || scene.trackWeights[i] <= CARRIER_WEIGHT) continue;
      projectTrack(scene, t, i, point, 0);
      depths.push(point.inverseDepth[0]);
    }
  }
  return depths.length > 0 ? Math.max(median(depths), 1e-6) : 1;
}

/** Tracks too short for any window: charted from their first frame at depth 1, without a say. */
function placeUnknown(whole: Observations, scene: Scene, known: Uint8Array): void {
  for (let i = 0; i < whole.trackCount; i++) {
    if (known[i]) continue;
    const o = whole.trackStart[i];
    placeTrack(scene, i, whole.frame[o], whole.x[o], whole.y[o], 1);
    scene.trackWeights[i] = 0;
  }
}
