/** Long clips solved in pieces: the fused answer against the one-piece answer and against the truth. */
import { describe, expect, it } from 'vitest';
import { meanAxisCovariance } from '../../src/motion/axis-noise.js';
import { passedShare } from '../../src/motion/estimate.js';
import { poseSeries, vibrationOf } from '../../src/motion/index.js';
import { pathLength } from '../../src/motion/metric-scale.js';
import { prepareObservations, type Observations } from '../../src/motion/observations.js';
import { resolveSplitOptions } from '../../src/motion/options.js';
import type { ClipScale, Reconstruction } from '../../src/motion/piece.js';
import { reconstruct } from '../../src/motion/reconstruct.js';
import { SEGMENT_LIMITS, type SegmentLimits } from '../../src/motion/segments/plan.js';
import {
  reconstructClip,
  segmentWarnings,
  type ClipReconstruction,
} from '../../src/motion/segments/reconstruct-clip.js';
import { gaussianRandom, rms, seededRandom } from '../../src/numerics/index.js';
import { AXES, type Axis, type SixAxes } from '../../src/run/index.js';
import type { TrackTable } from '../../src/tracking/index.js';
import { expectWithin } from '../support/expect-within.js';
import { simulatePass, type PassOptions, type SimulatedPass } from './support/simulated-tracks.js';

const FPS = 25;
const CUTOFF_HZ = 0.8;
const TRIM = FPS / 2;
/** Pieces of some five seconds: the limits of long clips on a small scale. */
const SMALL: SegmentLimits = { ...SEGMENT_LIMITS, observations: 11_000, inOne: 1.2 };

interface Filmed {
  readonly pass: SimulatedPass;
  readonly obs: Observations;
  readonly clip: ClipScale;
}

function film(options: Partial<PassOptions>, change: (table: TrackTable) => TrackTable = (t) => t): Filmed {
  const pass = simulatePass({ fps: FPS, liveTracks: 90, seed: 1, ...options });
  const { observations: obs } = prepareObservations(change(pass.table), pass.camera);
  return { pass, obs, clip: { rateHz: FPS, timeS: pass.table.timeS, unitPerPx: 1 / pass.camera.focalPx } };
}

const settingsOf = (onProgress: (done: number) => void = () => {}): ReturnType<typeof resolveSplitOptions> =>
  resolveSplitOptions({ onProgress }, 20);

function inPieces({ pass, obs, clip }: Filmed, limits = SMALL): ClipReconstruction {
  return reconstructClip(obs, pass.camera, clip, settingsOf(), limits);
}

/** Vibration in metres and the floor of each axis, over the frames `from`..`to` less half a second at either end. */
function measured(
  { pass }: Filmed,
  { scene, covariances }: Pick<Reconstruction, 'scene' | 'covariances'>,
  from = 0,
  to = scene.centres.length / 3,
): { vibration: SixAxes; floor: Record<Axis, number>; truth: SixAxes } {
  const part = (rotations: Float64Array, centres: Float64Array): [Float64Array, Float64Array] => [
    rotations.slice(9 * from, 9 * to),
    centres.slice(3 * from, 3 * to),
  ];
  const length = (centres: Float64Array): number =>
    pathLength(
      [0, 1, 2].map((j) => centres.filter((_, k) => k % 3 === j)),
      FPS,
      CUTOFF_HZ,
    );
  const [trueRotations, trueCentres] = part(pass.rotations, pass.centres);
  const [rotations, centres] = part(scene.rotations, scene.centres);
  const factor = length(trueCentres) / length(centres);
  const inBand = (r: Float64Array, c: Float64Array): SixAxes =>
    vibrationOf(poseSeries(r, c), FPS, CUTOFF_HZ).vibration;
  const frames = Array.from({ length: to - from - 2 * TRIM }, (_, k) => Math.floor(from + TRIM + k));
  const { plain } = meanAxisCovariance(covariances.white, covariances.coherent, frames, 0, factor);
  const floors = AXES.map((axis, a) => [axis, Math.sqrt(passedShare(FPS, CUTOFF_HZ) * plain[7 * a])]);
  return {
    vibration: inBand(
      rotations,
      centres.map((value) => value * factor),
    ),
    floor: Object.fromEntries(floors) as Record<Axis, number>,
    truth: inBand(trueRotations, trueCentres),
  };
}

/** RMS of the difference of two series, ends left out. */
function apart(a: Float64Array, b: Float64Array): number {
  const end = a.length - Math.ceil(TRIM);
  return rms(a.subarray(Math.ceil(TRIM), end).map((v, t) => v - b[Math.ceil(TRIM) + t]));
}

/** Error over floor at most, as for clips in one piece. */
const WORST_ERROR_FLOORS = 1.25;

describe('a clip solved in pieces', () => {
  it.each(['lateral', 'push', 'arc'] as const)('gives the answer of one piece: %s', (move) => {
    const filmed = film({ move, durationS: 14 });
    const seen: number[] = [];
    const fused = reconstructClip(
      filmed.obs,
      filmed.pass.camera,
      filmed.clip,
      settingsOf((done) => seen.push(done)),
      SMALL,
    );
    expect(fused.segments.length).toBe(3);
    expect([fused.mode, fused.missing, fused.bridged]).toEqual(['full', [], []]);
    expect(seen.every((done, k) => k === 0 || done >= seen[k - 1])).toBe(true);

    const whole = reconstruct(filmed.obs, filmed.pass.camera, filmed.clip, settingsOf());
    const pieces = measured(filmed, fused);
    const one = measured(filmed, whole);
    for (const axis of AXES) {
      const floor = one.floor[axis];
      expect(apart(pieces.vibration[axis], one.vibration[axis]) / floor, axis).toBeLessThan(0.2);
      expectWithin(
        pieces.floor[axis] / floor,
        1,
        { abs: 0.05, why: 'the same tracks, cut at three places' },
        axis,
      );
      expect(apart(pieces.vibration[axis], pieces.truth[axis]) / floor, axis).toBeLessThan(
        WORST_ERROR_FLOORS,
      );
    }
    expectWithin(fused.keptShare, whole.keptShare, { abs: 0.02, why: 'tracks at the cuts' });
    expectWithin(fused.covariances.sigma, whole.covariances.sigma, { rel: 0.02, why: '8000 residuals' });
    // Observations of the largest piece are what memory for the equations goes with.
    const sizes = fused.segments.map(
      ({ from, to }) => filmed.obs.frameStart[to] - filmed.obs.frameStart[from],
    );
    expect(Math.max(...sizes)).toBeLessThan(0.65 * filmed.obs.count);
  });

  it('is solved in one, as ever, when it fits', () => {
    const filmed = film({ durationS: 3 });
    const { segments, missing, bridged, ...whole } = inPieces(filmed);
    expect([segments, missing, bridged]).toEqual([[{ from: 0, to: 75 }], [], []]);
    expect(whole).toEqual(reconstruct(filmed.obs, filmed.pass.camera, filmed.clip, settingsOf()));
  });

  it('gives the angles of a camera that only turns', () => {
    const filmed = film({ move: 'static', translationalMm: 0, durationS: 14 });
    const fused = inPieces(filmed);
    expect(fused.segments.length).toBe(3);
    expect(fused.mode).toBe('rotationOnly');
    const centres = new Float64Array(fused.scene.centres.length);
    expect(fused.scene.centres).toEqual(centres);
    const truth = vibrationOf(poseSeries(filmed.pass.rotations, centres), FPS, CUTOFF_HZ).vibration;
    const found = vibrationOf(poseSeries(fused.scene.rotations, centres), FPS, CUTOFF_HZ).vibration;
    for (const axis of ['pan', 'tilt'] as const)
      expectWithin(apart(found[axis], truth[axis]) / rms(truth[axis]), 0, {
        abs: 0.03,
        why: 'shake of 40 floors',
      });
  });
});

describe('a dolly that rests in the middle of a long clip', () => {
  // A standing camera loses no tracks.
  const RESTING = { meanLifeFrames: 400, liveTracks: 80 } as const;

  it('has the rest solved with the travel beside it', () => {
    const filmed = film({ ...RESTING, durationS: 20, pause: { fromS: 5, lengthS: 10 } });
    const fused = inPieces(filmed);
    expect(fused.segments.length).toBeGreaterThan(1);
    expect([fused.mode, fused.missing, fused.bridged]).toEqual(['full', [], []]);
    const { vibration, floor, truth } = measured(filmed, fused);
    for (const axis of AXES)
      expect(apart(vibration[axis], truth[axis]) / floor[axis], axis).toBeLessThan(WORST_ERROR_FLOORS);
    expectWithin(scaleRatio(filmed, fused, [0, 100], [400, 499]), 1, {
      abs: 0.01,
      why: 'tracks outlast the rest',
    });
  });

  it('keeps its scale across a rest too long for any piece, which is left out', () => {
    const filmed = film({ ...RESTING, durationS: 26, pause: { fromS: 6, lengthS: 14 } });
    const fused = inPieces(filmed, { ...SMALL, observations: 8000, longest: 1.1 });
    expect(fused.mode).toBe('full');
    expect(fused.missing.length).toBe(1);
    const [{ from, to }] = fused.missing;
    expect(from / FPS).toBeGreaterThan(6);
    expect(to / FPS).toBeLessThan(20);
    expect(fused.covariances.inliers.subarray(from, to).every((count) => count === 0)).toBe(true);
    expect(fused.bridged).toEqual([]);
    expectWithin(scaleRatio(filmed, fused, [0, 125], [540, 649]), 1, {
      abs: 0.01,
      why: 'tracks outlast the rest',
    });
  });
});

describe('a stretch in which nothing can be measured', () => {
  const BAD_S = [6, 9.5] as const;
  /** Every track goes its own way between two times. */
  const strayed = (table: TrackTable): TrackTable => {
    const normal = gaussianRandom(seededRandom(8));
    const [xPx, yPx] = [table.xPx.slice(), table.yPx.slice()];
    for (let i = 0; i < table.trackCount; i++) {
      let [x, y] = [0, 0];
      for (let o = table.trackStart[i]; o < table.trackStart[i + 1]; o++) {
        if (table.obsFrame[o] >= BAD_S[0] * FPS && table.obsFrame[o] < BAD_S[1] * FPS) {
          x += 3 * normal();
          y += 3 * normal();
        }
        xPx[o] += x;
        yPx[o] += y;
      }
    }
    return { ...table, xPx, yPx };
  };
  const filmed = film({ durationS: 17, unevenness: 0, pause: null }, strayed);
  const fused = inPieces(filmed, { ...SMALL, observations: 9000 });

  it('does not spoil the rest of the clip', () => {
    expect([fused.mode, fused.holds]).toEqual(['full', true]);
    const { inliers } = fused.covariances;
    const thin = Array.from(inliers.keys()).filter((t) => inliers[t] < 8);
    expect(Math.min(...thin) / FPS).toBeGreaterThan(BAD_S[0] - 0.5);
    expect(Math.max(...thin) / FPS).toBeLessThan(BAD_S[1] + 0.5);
    expect(thin.length / FPS).toBeGreaterThan(0.8 * (BAD_S[1] - BAD_S[0]));
    for (const [from, to] of [
      [0, 140],
      [250, 425],
    ]) {
      const { vibration, floor, truth } = measured(filmed, fused, from, to);
      for (const axis of AXES)
        expect(apart(vibration[axis], truth[axis]) / floor[axis], axis).toBeLessThan(WORST_ERROR_FLOORS);
    }
  });

  it('is told, with the scale behind it taken from the speed of the dolly', () => {
    const ratio = scaleRatio(filmed, fused, [25, 125], [275, 400]);
    expectWithin(ratio, 1, { abs: 0.05, why: 'even speed, taken over a second on either side' });
    const warnings = segmentWarnings(fused, filmed.pass.table.timeS);
    const scale = warnings.find(({ code }) => code === 'motion-scale-bridged');
    expectWithin(scale?.atS ?? NaN, BAD_S[1], { abs: 0.6, why: 'where enough tracks hold again' });
  });
});

/** Local scale in one stretch of frames over that in another: 1 when the path is in one unit throughout. */
function scaleRatio(
  { pass }: Filmed,
  { scene }: Pick<Reconstruction, 'scene'>,
  early: readonly [number, number],
  late: readonly [number, number],
): number {
  const way = (centres: Float64Array, [from, to]: readonly [number, number]): number =>
    Math.hypot(...[0, 1, 2].map((j) => centres[3 * to + j] - centres[3 * from + j]));
  const local = (stretch: readonly [number, number]): number =>
    way(scene.centres, stretch) / way(pass.centres, stretch);
  return local(early) / local(late);
}
