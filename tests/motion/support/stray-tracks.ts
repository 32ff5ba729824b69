/**
 * Tracks that go astray on an otherwise honest simulated pass: highlights of a lamp on a polished, wavy floor, and
 * points of a repeating texture that slip to the neighbouring repeat. Pixels at the pass's own size; seeded.
 */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import type { TrackTable } from '../../../src/tracking/index.js';
import type { SimulatedPass } from './simulated-tracks.js';

/** A pass of which some tracks are not what they seem. */
export interface StrayPass extends SimulatedPass {
  /** 1 for the tracks that went astray, per track of the table. */
  readonly isStray: Uint8Array;
}

/** How far the lamp's mirror image lies from the camera, m: a few metres of floor and the height of the lamp. */
const MIRROR_IMAGE_M = [3, 8] as const;
/** Share of the camera's own way that a wave of the floor carries the highlight along, per direction. */
const CARRIED = [-0.6, 0.8] as const;
/** Mean time on one wave, s, and the hop to the next, px: larger hops end the track. */
const WAVE_S = 0.5;
const HOP_PX = [2, 10] as const;
/** Noise of a highlight, px: sharper and brighter than anything else in the picture. */
const HIGHLIGHT_NOISE_PX = 0.05;
const EDGE_PX = 8;
const SHORTEST_TRACK = 6;

/**
 * Puts a share of the tracks on highlights. The mirror image of a lamp in a flat floor would stand still like any
 * other point; every wave of the floor carries it along with the camera, by another share in each direction, and from
 * time to time the highlight hops to the next wave.
 */
export function withHighlights(pass: SimulatedPass, share: number, seed: number): StrayPass {
  const random = seededRandom(seed);
  const normal = gaussianRandom(random);
  const uniform = ([a, b]: readonly [number, number]): number => a + (b - a) * random();
  const { camera, rotations, centres, table } = pass;
  const hopChance = (table.timeS[1] - table.timeS[0]) / WAVE_S;
  return withStrays(pass, share, random, (xPx, yPx, frames) => {
    const first = frames[0];
    const ray = [
      (xPx[0] - camera.centreXPx) / camera.focalPx,
      (yPx[0] - camera.centreYPx) / camera.focalPx,
      1,
    ];
    const farM = uniform(MIRROR_IMAGE_M);
    const image = [0, 1, 2].map((j) => {
      const along = ray.reduce((sum, v, k) => sum + rotations[9 * first + 3 * k + j] * v, 0);
      return centres[3 * first + j] + farM * along;
    });
    let carried = [0, 1, 2].map(() => uniform(CARRIED));
    let waveFrom = first;
    let hop = [0, 0];
    frames.forEach((t, k) => {
      if (k > 0 && random() < hopChance) {
        for (let j = 0; j < 3; j++) image[j] += carried[j] * (centres[3 * t + j] - centres[3 * waveFrom + j]);
        carried = carried.map(() => uniform(CARRIED));
        waveFrom = t;
        const angle = 2 * Math.PI * random();
        const length = uniform(HOP_PX);
        hop = [hop[0] + length * Math.cos(angle), hop[1] + length * Math.sin(angle)];
      }
      // The image goes along with a share of the camera's way, so it lags behind by the rest.
      const d = image.map(
        (v, j) => v + carried[j] * (centres[3 * t + j] - centres[3 * waveFrom + j]) - centres[3 * t + j],
      );
      const seen = [0, 1, 2].map((r) => d.reduce((sum, v, j) => sum + rotations[9 * t + 3 * r + j] * v, 0));
      const scale = camera.focalPx / Math.max(seen[2], 0.1);
      xPx[k] = camera.centreXPx + scale * seen[0] + hop[0] + HIGHLIGHT_NOISE_PX * normal();
      yPx[k] = camera.centreYPx + scale * seen[1] + hop[1] + HIGHLIGHT_NOISE_PX * normal();
    });
  });
}

/**
 * Lets a share of the tracks slip once in their life by one period of a tiled wall or floor, along or across, and stay
 * on the wrong tile.
 */
export function withTextureSlips(
  pass: SimulatedPass,
  share: number,
  periodPx: number,
  seed: number,
): StrayPass {
  const random = seededRandom(seed);
  return withStrays(pass, share, random, (xPx, yPx) => {
    const from = 1 + Math.floor(random() * (xPx.length - 1));
    const column = random() < 0.5 ? xPx : yPx;
    const slip = random() < 0.5 ? periodPx : -periodPx;
    for (let k = from; k < column.length; k++) column[k] += slip;
  });
}

/** Rewrites a share of the tracks that stand still in the world; what leaves the picture is cut off. */
function withStrays(
  pass: SimulatedPass,
  share: number,
  random: () => number,
  lead: (xPx: Float64Array, yPx: Float64Array, frames: Int32Array) => void,
): StrayPass {
  const { table, onSubject } = pass;
  const trackStart = [0];
  const obsFrame: number[] = [];
  const xPx: number[] = [];
  const yPx: number[] = [];
  const kept: number[] = [];
  const isStray: number[] = [];
  for (let i = 0; i < table.trackCount; i++) {
    const range = [table.trackStart[i], table.trackStart[i + 1]] as const;
    const frames = table.obsFrame.subarray(...range);
    const x = table.xPx.slice(...range);
    const y = table.yPx.slice(...range);
    const stray = random() < share && !onSubject[i];
    if (stray) lead(x, y, frames);
    const inside = (v: number, size: number): boolean => v > EDGE_PX && v < size - EDGE_PX;
    let length = 0;
    while (
      length < x.length &&
      (!stray || (inside(x[length], table.widthPx) && inside(y[length], table.heightPx)))
    )
      length++;
    if (length < SHORTEST_TRACK) continue;
    kept.push(i);
    isStray.push(stray ? 1 : 0);
    obsFrame.push(...frames.subarray(0, length));
    xPx.push(...x.subarray(0, length));
    yPx.push(...y.subarray(0, length));
    trackStart.push(obsFrame.length);
  }
  const strayed: TrackTable = {
    ...table,
    trackCount: kept.length,
    trackStart: Int32Array.from(trackStart),
    obsFrame: Int32Array.from(obsFrame),
    xPx: Float64Array.from(xPx),
    yPx: Float64Array.from(yPx),
  };
  return {
    ...pass,
    table: strayed,
    onSubject: Uint8Array.from(kept, (i) => onSubject[i]),
    pointsM: Float64Array.from(kept.flatMap((i) => Array.from(pass.pointsM.subarray(3 * i, 3 * i + 3)))),
    isStray: Uint8Array.from(isStray),
  };
}
