import { describe, expect, it } from 'vitest';
import {
  combinedFlatness,
  curvaturesAlong,
  curvaturesM,
  curvatureStatistics,
  flatnessNumber,
} from '../../../src/surface/grades/flatness-survey.js';
import { flatness, heldCurvatureShare } from '../../../src/surface/grades/flatness.js';
import { flatnessFF } from '../../../src/surface/roughness/road-profile.js';
import { expectWithin } from '../../support/expect-within.js';
import { gradedRun, lineProfile } from '../support/graded-profile.js';

const READING_M = 0.3048;
const ROUGHNESS = { betweenJointsM3: 4e-6, asRolledM3: 9e-6 };

describe('curvatures along a profile', () => {
  it('are those of a survey when the profile stands at the readings', () => {
    const heightM = Float64Array.of(0, 0.002, 0.001, 0.003, 0.002);
    expect(curvaturesAlong(heightM, READING_M, READING_M)).toEqual(curvaturesM(heightM));
  });

  it('read between points where the spacing is no whole number of steps', () => {
    const parabola = Float64Array.from({ length: 60 }, (_, i) => (i * 0.04) ** 2);
    const q = curvaturesAlong(parabola, 0.04, 0.3);
    const straight = {
      abs: 2.001 * (0.04 / 2) ** 2,
      why: 'two chords of one step lie this far off the parabola at most',
    };
    q.forEach((value) => expectWithin(value, 2 * 0.3 ** 2, straight));
    expect(q).toHaveLength(60 - 2 * 8);
  });

  it('do not change when the floor leans or lies higher', () => {
    const level = Float64Array.from({ length: 100 }, (_, i) => Math.sin(i ** 1.3) * 1e-3);
    const leaning = level.map((height, i) => height + 0.5 + 0.01 * i);
    const same = { abs: 1e-12, why: 'rounding' };
    const q = curvaturesAlong(leaning, 0.02, 0.3);
    curvaturesAlong(level, 0.02, 0.3).forEach((value, i) => expectWithin(q[i], value, same));
  });
});

describe('share of the curvature in a band', () => {
  it('is one for all waves and nothing for a band above or below the readings', () => {
    expectWithin(heldCurvatureShare([0, Infinity], READING_M), 1, { abs: 1e-6, why: 'Simpson' });
    expect(heldCurvatureShare([20, 40], READING_M)).toBeLessThan(1e-3);
    expect(heldCurvatureShare([0.001, 0.01], READING_M)).toBeLessThan(0.02);
  });

  it('lacks at the short end what sin^4 counts there on average, 3/8', () => {
    const shortestM = READING_M / 40;
    const expected = 1 - ((3 / 8) * shortestM) / (Math.PI * READING_M) / (Math.PI / 4);
    const tail = { abs: 1e-5, why: 'Simpson, and an end on a whole turn of sin^4' };
    expectWithin(heldCurvatureShare([shortestM, Infinity], READING_M), expected, tail);
  });

  it('grows as the band reaches longer waves', () => {
    const shares = [0.3, 0.5, 1, 2, 4].map((longestM) => heldCurvatureShare([0.02, longestM], READING_M));
    expect([...shares].sort((one, other) => one - other)).toEqual(shares);
    expect(shares[0]).toBeLessThan(0.2);
    expect(shares[4]).toBeGreaterThan(0.95);
  });

  it('is the share of variance that the high-pass of a run leaves', () => {
    const speedMps = 0.7;
    const shares = [1, 2, 3].map((seed) => {
      const { profile, bandM, trueM } = gradedRun(seed, speedMps, 60, 4e-6);
      const stepM = bandM[0] / 2;
      const left = profile.sides?.leftM ?? new Float64Array();
      const held = curvatureStatistics(curvaturesAlong(left, stepM, READING_M)).sdM;
      return (held / curvatureStatistics(curvaturesAlong(trueM[0], stepM, READING_M)).sdM) ** 2;
    });
    const mean = shares.reduce((sum, share) => sum + share, 0) / shares.length;
    // The samples keep their short waves, so only the long end counts here.
    const long = heldCurvatureShare([0, speedMps / 0.8], READING_M);
    expectWithin(mean, long, { abs: 0.05, why: 'three runs of 60 m, 4 % by chance' });
  });
});

describe('flatness of a run', () => {
  it('comes from the profile when the band holds four fifths of the curvature', () => {
    const truths: { flatness: number; readings: number }[] = [];
    const found: { flatness: number; readings: number }[] = [];
    for (const seed of [1, 2, 3]) {
      const { profile, bandM, trueM } = gradedRun(seed, 1.25, 40, 4e-6);
      const run = flatness(profile, bandM, ROUGHNESS);
      expect(run.reason).toBeNull();
      expect(run.heldShare).toBeGreaterThan(0.8);
      found.push({ flatness: run.profileFF ?? NaN, readings: run.readings });
      for (const heightM of trueM) {
        const q = curvatureStatistics(curvaturesAlong(heightM, bandM[0] / 2, READING_M), 6);
        truths.push({ flatness: flatnessNumber(q), readings: q.readings });
      }
    }
    const truth = combinedFlatness(truths);
    // Missing waves make it read high, by 1 / sqrt(0.8) at most.
    expect(combinedFlatness(found)).toBeGreaterThan(0.98 * truth);
    expect(combinedFlatness(found)).toBeLessThan(1.12 * truth);
    const chance = { rel: 0.15, why: 'three runs of 40 m, and what the band leaves out' };
    expectWithin(combinedFlatness(found), flatnessFF(4e-6), chance);
  });

  it('is only the equivalent of the roughness at the pace of a slider, and says so', () => {
    const { profile, bandM } = gradedRun(1, 0.25, 10, 4e-6);
    const run = flatness(profile, bandM, ROUGHNESS);
    expect(run.profileFF).toBeNull();
    expect(run.curvatureSdM).toBeNull();
    expect(run.change95M).toBeNull();
    expect(run.reason).toMatch(/roll faster/);
    expect(run.heldShare).toBeLessThan(0.5);
    expectWithin(run.equivalentFF, flatnessFF(4e-6), { rel: 1e-12, why: 'the same formula' });
    expect(run.equivalentAsRolledFF).toBeLessThan(run.equivalentFF);
    expect(run.band).toBe('very flat');
  });

  it('wants a line of 3.3 m', () => {
    const { profile, bandM } = gradedRun(1, 1.25, 3, 4e-6);
    const run = flatness(profile, bandM, ROUGHNESS);
    expect(run.profileFF).toBeNull();
    expect(run.reason).toMatch(/3\.3 m/);
  });

  it('tells free movement by the change over 300 mm, the worse line counting', () => {
    const { profile, bandM } = gradedRun(1, 1.25, 40, 4e-6);
    const smooth = flatness(profile, bandM, ROUGHNESS);
    expect(smooth.freeMovement).toBe('FM1');
    const sides = profile.sides ?? { leftM: profile.heightM, rightM: profile.heightM, sdM: profile.sdM };
    const worse = { ...profile, sides: { ...sides, rightM: sides.rightM.map((height) => 3 * height) } };
    const rough = flatness(worse, bandM, ROUGHNESS);
    const tripled = { rel: 0.35, why: 'the tripled line alone counts; left and right differ a little' };
    expectWithin(rough.change95M ?? NaN, 3 * (smooth.change95M ?? NaN), tripled);
    expect(rough.freeMovement).not.toBe('FM1');
  });

  it('adds the error of the profile to the variance of its curvature', () => {
    const { profile, bandM } = gradedRun(1, 1.25, 40, 4e-6);
    const sure = flatness(profile, bandM, ROUGHNESS);
    const sdM = profile.sdM.map(() => 8e-5);
    const unsure = flatness(
      { ...profile, sides: profile.sides && { ...profile.sides, sdM } },
      bandM,
      ROUGHNESS,
    );
    const three = { rel: 1e-3, why: 'the error of the sure profile, 1 um' };
    const expected = Math.hypot(sure.curvatureSdM ?? NaN, Math.sqrt(6) * 8e-5);
    expectWithin(unsure.curvatureSdM ?? NaN, expected, three);
    expect(unsure.profileFF).toBeLessThan(sure.profileFF ?? NaN);
    expect(unsure.change95M).toBeGreaterThan(sure.change95M ?? NaN);
  });

  it('gives no number for curvature that the error of the profile could make', () => {
    const level = lineProfile(new Float64Array(200), 0.04, 1e-6);
    const flat = flatness(level, [0.08, 2], ROUGHNESS);
    expect(flat.profileFF).toBeNull();
    expect(flat.reason).toMatch(/error of the profile/);
    const { profile, bandM } = gradedRun(1, 1.25, 40, 4e-6);
    const unsure = {
      ...profile,
      sides: profile.sides && { ...profile.sides, sdM: profile.sdM.map(() => 2e-4) },
    };
    expect(flatness(unsure, bandM, ROUGHNESS).reason).toMatch(/error of the profile/);
  });
});
