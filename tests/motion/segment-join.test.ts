import { describe, expect, it } from 'vitest';
import { frameCovariances } from '../../src/motion/covariance.js';
import { windowOf, type Observations } from '../../src/motion/observations.js';
import { blankScene, copyTrack, type Scene } from '../../src/motion/scene.js';
import { bridgeSegments } from '../../src/motion/segments/bridge.js';
import { frameShares } from '../../src/motion/segments/fusion.js';
import {
  compose,
  IDENTITY,
  joinSegments,
  poseIn,
  transposed,
  type Similarity,
  type SolvedSegment,
} from '../../src/motion/segments/join.js';
import { multiply3, rotationFromVector } from '../../src/optics/index.js';
import { expectWithin } from '../support/expect-within.js';
import { randomScene, UNIT_CAMERA } from './support/random-scene.js';

const FRAMES = 60;
const { obs, scene } = randomScene(FRAMES, 40, 0, 3);

/** The frames from..to-1 of the scene as a piece of its own, in a world where `place` leads back. */
function pieceOf(from: number, to: number, place: Similarity): SolvedSegment {
  const { observations, trackOfWhole } = windowOf(obs, from, to, 6);
  const back = inverse(place);
  const part = blankScene(to - from, trackOfWhole.length);
  for (let t = from; t < to; t++) setPose(part.rotations, part.centres, t - from, poseIn(scene, t, back));
  trackOfWhole.forEach((i, k) => {
    copyTrack(scene, i, part, k);
    const chart = { rotations: scene.chartRotations, centres: scene.chartCentres };
    setPose(part.chartRotations, part.chartCentres, k, poseIn(chart, i, back));
    part.points[3 * k + 2] = scene.points[3 * i + 2] * place.scale;
  });
  return { from, to, trackOfWhole, reconstruction: reconstructionOf(observations, part) };
}

function setPose(
  rotations: Float64Array,
  centres: Float64Array,
  t: number,
  pose: { rotation: Float64Array; centre: number[] },
): void {
  rotations.set(pose.rotation, 9 * t);
  centres.set(pose.centre, 3 * t);
}

function reconstructionOf(observations: Observations, part: Scene): SolvedSegment['reconstruction'] {
  const covariances = frameCovariances(observations, part, UNIT_CAMERA, false, 1e-4);
  return {
    mode: 'full',
    scene: part,
    covariances,
    parallaxP: 50,
    lostFrames: [],
    keptShare: 1,
    holds: true,
    readout: { source: 'given', readoutS: 0, ci95S: null, state: 'notNeeded', costFall: null },
    distortion: { source: 'none', k1: null, ci95: null, state: 'notNeeded', costFall: null, rmsShare: null },
    unreliable: [],
    signs: [],
  };
}

function inverse({ scale, rotation, shift }: Similarity): Similarity {
  const turned = transposed(rotation);
  const back = (j: number): number =>
    -(turned[3 * j] * shift[0] + turned[3 * j + 1] * shift[1] + turned[3 * j + 2] * shift[2]) / scale;
  return { scale: 1 / scale, rotation: turned, shift: [back(0), back(1), back(2)] };
}

const PLACE: Similarity = {
  scale: 1.7,
  rotation: multiply3(rotationFromVector(0.1, -0.4, 0.2), rotationFromVector(0, 0.3, 0)),
  shift: [2, -1, 0.5],
};

function expectSame(found: Similarity | null, wanted: Similarity, abs: number): void {
  expect(found).not.toBeNull();
  const why = 'exact observations';
  expectWithin(found?.scale ?? NaN, wanted.scale, { abs, why });
  wanted.rotation.forEach((value, k) => expectWithin(found?.rotation[k] ?? NaN, value, { abs, why }));
  wanted.shift.forEach((value, k) => expectWithin(found?.shift[k] ?? NaN, value, { abs: 20 * abs, why }));
}

describe('joining two pieces', () => {
  it('finds the turn, the shift and the ratio of scales between them', () => {
    expectSame(joinSegments(pieceOf(0, 40, IDENTITY), pieceOf(20, 60, PLACE)), PLACE, 1e-6);
  });

  it('says so when they share too few frames', () => {
    expect(joinSegments(pieceOf(0, 30, IDENTITY), pieceOf(25, 60, PLACE))).toBeNull();
    expect(joinSegments(pieceOf(0, 30, IDENTITY), pieceOf(32, 60, PLACE))).toBeNull();
  });

  it('chains: placing a piece in the one before and that one in the first is placing it in the first', () => {
    const other: Similarity = { scale: 0.6, rotation: rotationFromVector(0.2, 0.1, -0.5), shift: [0, 3, 1] };
    const both = compose(other, PLACE);
    const once = poseIn(scene, 7, both);
    const inner = poseIn(scene, 7, PLACE);
    const twice = poseIn({ rotations: inner.rotation, centres: Float64Array.from(inner.centre) }, 0, other);
    once.rotation.forEach((value, k) => expectWithin(value, twice.rotation[k], { abs: 1e-12 }));
    once.centre.forEach((value, k) => expectWithin(value, twice.centre[k], { abs: 1e-12 }));
  });

  it('takes the dolly to have kept its speed where the sight was lost', () => {
    const { place, measured } = bridgeSegments(pieceOf(0, 25, IDENTITY), pieceOf(35, 60, PLACE), 12);
    expect(measured).toBe(false);
    // The scene rolls at 0.2 per frame and shakes by 0.05: medians over six pairs.
    expectWithin(place.scale, PLACE.scale, { rel: 0.15, why: 'speed is taken over a second of shaking' });
  });
});

describe('the shares of the pieces', () => {
  it('add up to one and pass smoothly from one piece to the next in the middle of the overlap', () => {
    const placed = [pieceOf(0, 40, IDENTITY), pieceOf(20, 60, IDENTITY)].map((segment) => ({
      segment,
      place: IDENTITY,
    }));
    const [early, late] = frameShares(placed, FRAMES);
    for (let t = 0; t < FRAMES; t++) {
      expectWithin(early[t] + late[t], 1, { abs: 1e-12 });
      if (t > 0) expect(late[t]).toBeGreaterThanOrEqual(late[t - 1]);
    }
    expect([late[23], late[36]]).toEqual([0, 1]);
    expectWithin((late[29] + late[30]) / 2, 0.5, { abs: 1e-9, why: 'symmetry' });
  });
});
