import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import type { RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { solveFloor } from '../../../src/surface/profile/floor-solution.js';
import { stretchInformation } from '../../../src/surface/profile/stretch-information.js';
import type { Stretch, TrackSum } from '../../../src/surface/profile/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { add, inverse, matrix, multiply, transpose, type Matrix } from './matrices.js';

const LEVEL_M3 = 1e-6;
const FRAMES = 14;

/** A short deck with series of mere noise; its front axle rolls between the places of the rear one. */
function tinyDeck(): RolledDeck {
  const gaussian = gaussianRandom(seededRandom(5));
  const series = (sd: number): RolledDeck['heaveM'] => ({
    values: Float64Array.from({ length: FRAMES }, () => 3 * sd * gaussian()),
    noiseSd: sd,
    leastNoiseSd: sd / 2,
  });
  return {
    rateHz: 25,
    cutoffHz: 2,
    exposureS: 0.02,
    wheelbaseM: 0.06,
    frontAheadM: 0.0605,
    trackWidthM: 0.4,
    timeS: Float64Array.from({ length: FRAMES }, (_, i) => i / 25),
    rearM: Float64Array.from({ length: FRAMES }, (_, i) => 0.02 * i + 0.001 * Math.sin(i)),
    pitchRad: series(1e-3),
    heaveM: series(5e-5),
    rollRad: series(2e-4),
  };
}

function wholeOf(deck: RolledDeck): Stretch {
  const last = deck.rearM.length - 1;
  return {
    fromFrame: 0,
    toFrame: last + 1,
    answersM: [deck.rearM[0], deck.rearM[last] + deck.frontAheadM],
  };
}

/**
 * The same posterior by covariances: floor = Brownian path from an offset of 1 m, times the weak prior on each height; drift = the
 * covariance of white noise summed up four times plus any cubic; data = what both make, with noise.
 */
function byCovariances(deck: RolledDeck, track: TrackSum, nodesM: Float64Array) {
  const nodes = [...nodesM];
  const n = nodes.length;
  const perMetre = 2 * Math.PI ** 2 * 0.1 ** 2 * LEVEL_M3;
  const path = matrix(n, n, (i, j) => 1 + perMetre * (Math.min(nodes[i], nodes[j]) - nodes[0]));
  const weak = matrix(n, n, (i, j) => (i === j ? 0.01 : 0));
  const floor = add(path, multiply(multiply(path, inverse(add(path, weak))), path), -1);

  const D = matrix(FRAMES - 4, FRAMES, (i, j) => [1, -4, 6, -4, 1][j - i] ?? 0);
  const DDt = inverse(multiply(D, transpose(D)));
  const summed = multiply(multiply(transpose(D), multiply(DDt, DDt)), D);
  const lambda = (2 * Math.sin((Math.PI * deck.cutoffHz) / deck.rateHz)) ** -8;
  const centred = Array.from({ length: FRAMES }, (_, i) => (2 * i) / (FRAMES - 1) - 1);
  const cubics = matrix(FRAMES, FRAMES, (i, j) =>
    [0, 1, 2, 3].reduce((sum, k) => sum + (centred[i] * centred[j]) ** k, 0),
  );
  const between = (placeM: number, column: number): number => {
    // The hat of a node: 1 there, falling to 0 at its neighbours.
    const gap =
      placeM < nodes[column] ? nodes[column] - nodes[column - 1] : nodes[column + 1] - nodes[column];
    const off = Math.abs(placeM - nodes[column]);
    return off === 0 ? 1 : Math.max(0, 1 - off / gap);
  };
  const rearAndFront = (rear: number, front: number): Matrix =>
    matrix(
      FRAMES,
      n,
      (t, j) => rear * between(deck.rearM[t], j) + front * between(deck.rearM[t] + deck.frontAheadM, j),
    );
  const L = deck.wheelbaseM;
  const B = deck.trackWidthM!;
  const channels =
    track === 'mean'
      ? [
          { A: rearAndFront(-1 / L, 1 / L), series: deck.pitchRad! },
          { A: rearAndFront(0.5, 0.5), series: deck.heaveM! },
        ]
      : [{ A: rearAndFront(0.5 / B, 0.5 / B), series: deck.rollRad! }];
  const A = channels.flatMap((channel) => channel.A);
  const y = channels.flatMap(({ series }) => [...series.values].map((value) => [value]));
  const noise = matrix(A.length, A.length, (i, j) => {
    if (Math.floor(i / FRAMES) !== Math.floor(j / FRAMES)) return 0;
    const [t, u] = [i % FRAMES, j % FRAMES];
    const white = t === u ? 1 : 0;
    const { noiseSd } = channels[Math.floor(i / FRAMES)].series;
    return noiseSd ** 2 * (white + summed[t][u] / lambda + 1e8 * cubics[t][u]);
  });
  const At = transpose(A);
  const seen = inverse(add(multiply(multiply(A, floor), At), noise));
  const gain = multiply(multiply(floor, At), seen);
  return {
    meanM: multiply(gain, y).map(([value]) => value),
    covariance: add(floor, multiply(multiply(gain, A), floor), -1),
    information: multiply(multiply(At, seen), A),
    score: multiply(multiply(At, seen), y).map(([value]) => value),
  };
}

describe.each<TrackSum>(['mean', 'difference'])('what a stretch says of the %s of the tracks', (track) => {
  const deck = tinyDeck();
  const stretch = wholeOf(deck);
  const info = stretchInformation(deck, track, LEVEL_M3, stretch);
  const n = info.nodesM.length;
  const reference = byCovariances(deck, track, info.nodesM);
  const cubicsWide = 'cubics have a wide prior there and a flat one here';

  it('are the heights and errors that covariances of floor, drift and noise give', () => {
    const { meanM, factor } = solveFloor(deck, track, LEVEL_M3, stretch);
    const L = matrix(n, n, (i, j) => (j <= i ? factor[i * n + j] : 0));
    // No series sees the offset of all heights, so it is left out.
    const centre = matrix(n, n, (i, j) => (i === j ? 1 : 0) - 1 / n);
    const heights = (m: readonly number[]): number[] =>
      multiply(
        centre,
        m.map((value) => [value]),
      ).map(([value]) => value);
    const errors = (c: Matrix): number[] =>
      multiply(multiply(centre, c), centre).map((row, i) => Math.sqrt(row[i]));
    const [ours, theirs] = [heights([...meanM]), heights(reference.meanM)];
    const [ourSd, theirSd] = [errors(inverse(multiply(L, transpose(L)))), errors(reference.covariance)];
    const largest = Math.max(...theirs.map(Math.abs));
    for (let i = 0; i < n; i++) {
      expectWithin(ours[i], theirs[i], { abs: 1e-5 * largest, why: cubicsWide }, `height ${i}`);
      expectWithin(ourSd[i], theirSd[i], { rel: 1e-5, why: cubicsWide }, `error of height ${i}`);
    }
  });

  it('are information and score of the data with floor and drift as noise', () => {
    const largest = Math.max(...reference.information.map((row, i) => row[i]));
    const largestScore = Math.max(...reference.score.map(Math.abs));
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        expectWithin(
          info.information[i * n + j],
          reference.information[i][j],
          { abs: 1e-5 * largest, why: cubicsWide },
          `information ${i}, ${j}`,
        );
      }
      expectWithin(
        info.score[i],
        reference.score[i],
        { abs: 1e-5 * largestScore, why: cubicsWide },
        `score ${i}`,
      );
    }
  });
});

describe('what a stretch says', () => {
  const deck = tinyDeck();
  const stretch = wholeOf(deck);

  it('is worth more with pitch and heave than with either alone', () => {
    const worth = (part: RolledDeck): number => {
      const { nodesM, information } = stretchInformation(part, 'mean', LEVEL_M3, stretch);
      const n = nodesM.length;
      const middle = Math.floor(n / 2);
      let sum = 0;
      for (let i = middle; i < n; i++) for (let j = middle; j < n; j++) sum += information[i * n + j];
      return sum;
    };
    const both = worth(deck);
    expect(both).toBeGreaterThan(1.05 * worth({ ...deck, heaveM: null }));
    expect(both).toBeGreaterThan(1.05 * worth({ ...deck, pitchRad: null }));
  });

  it('is the same whatever slow move the series hold', () => {
    const slow = (series: RolledDeck['heaveM']): RolledDeck['heaveM'] =>
      series && {
        ...series,
        values: series.values.map((value, i) => value + 0.05 - 0.01 * i + 1e-4 * i ** 3),
      };
    const moved = { ...deck, pitchRad: slow(deck.pitchRad), heaveM: slow(deck.heaveM) };
    const still = stretchInformation(deck, 'mean', LEVEL_M3, stretch).score;
    const largest = Math.max(...still.map(Math.abs));
    stretchInformation(moved, 'mean', LEVEL_M3, stretch).score.forEach((value, i) =>
      expectWithin(value, still[i], { abs: 1e-7 * largest, why: 'rounding of a move of 0.3 m' }),
    );
  });

  it('is refused for a sum of tracks that the deck does not show', () => {
    expect(() => stretchInformation({ ...deck, rollRad: null }, 'difference', LEVEL_M3, stretch)).toThrow(
      /shows no difference/,
    );
    expect(() =>
      stretchInformation({ ...deck, pitchRad: null, heaveM: null }, 'mean', LEVEL_M3, stretch),
    ).toThrow(/shows no mean/);
    expect(() => stretchInformation(deck, 'mean', 0, stretch)).toThrow(/levelM3/);
  });
});

describe('a floor solution', () => {
  it('stands where the tracks are alike, so that their difference has next to no level', () => {
    const deck = tinyDeck();
    const { meanM } = solveFloor(deck, 'difference', 1e-22, wholeOf(deck));
    expect(meanM.every(Number.isFinite)).toBe(true);
    // A floor that is flat for sure leaves one height for all its nodes.
    const spread = Math.max(...meanM) - Math.min(...meanM);
    expect(spread).toBeLessThan(1e-6);
  });
});
