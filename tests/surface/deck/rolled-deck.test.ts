import { describe, expect, it } from 'vitest';
import { poseSeries, type Motion } from '../../../src/motion/index.js';
import { fourthDifferenceSmooth, rms } from '../../../src/numerics/index.js';
import { makeCameraPath, resolveSynthOptions } from '../../../src/synth/index.js';
import { readPass } from '../../../src/surface/deck/pass.js';
import { rolledDeck, withPhase, type RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpPass, madeUpRig, motionOf } from '../support/made-up-pass.js';

const WAVE = { wheelbaseM: 0.45, trackWidthM: 0.4, cameraOffsetM: 0.05 };

/** A rough pass along true poses, and what its deck really did. */
function truePass(azimuthDeg: number, driftDeg = 0) {
  const options = resolveSynthOptions({
    move: Math.abs(azimuthDeg) === 90 ? 'lateral' : 'pushIn',
    lensAzimuthDeg: azimuthDeg,
    speedMps: 0.5,
    speedWander: 0.02,
    durationS: 10,
    fps: 25,
    driftDeg,
    cameraHeightM: 0.9,
    deck: { ...WAVE, floor: { gdM3: 1e-6 } },
  });
  const path = makeCameraPath(options);
  const poses = Array.from(path.timesS, (t) => path.poseAt(t));
  const rotations = Float64Array.from(poses.flatMap(({ rotation }) => Array.from(rotation)));
  const centres = Float64Array.from(poses.flatMap(({ centre }) => Array.from(centre)));
  const travelM = path.travelAt(path.timesS[path.timesS.length - 1]);
  const motion = motionOf(poseSeries(rotations, centres), path.timesS, options.fps, travelM);
  const states = Array.from(path.timesS, (t) => path.deck!.stateAt(path.travelAt(t)));
  return { motion, states, placeM: path.timesS.map((t) => path.travelAt(t)) };
}

function deckOf(motion: Motion, azimuthDeg: number): RolledDeck {
  const rig = madeUpRig(0.5, { ...WAVE, lensAzimuthDeg: azimuthDeg, cameraHeightM: 0.9 });
  return rolledDeck(readPass(motion, rig).pass!, motion);
}

/** RMS of what is faster than 0.8 Hz. */
function fast(series: Float64Array): number {
  const smooth = fourthDifferenceSmooth(series, 25, 0.8);
  return rms(series.map((value, i) => value - smooth[i]));
}

const less = (a: Float64Array, b: readonly number[]): Float64Array => a.map((value, i) => value - b[i]);

describe('the deck along true poses of its camera', () => {
  it.each([0, 90, -90, 180, 35])('pitches, rolls and heaves as it did, lens at %d degrees', (azimuthDeg) => {
    const { motion, states } = truePass(azimuthDeg);
    const deck = deckOf(motion, azimuthDeg);
    const second = 'squares of deck angles of a milliradian and of the wander of the pace';
    const pitch = states.map(({ pitchRad }) => pitchRad);
    expect(fast(Float64Array.from(pitch))).toBeGreaterThan(1e-4);
    expectWithin(fast(less(deck.pitchRad!.values, pitch)), 0, { abs: 2e-6, why: second }, 'pitch');
    const roll = states.map(({ rollRad }) => rollRad);
    expectWithin(fast(less(deck.rollRad!.values, roll)), 0, { abs: 2e-6, why: second }, 'roll');
    const heave = states.map(({ heaveM }) => heaveM);
    // Heave of 30 um; read along the lens's own upright instead of the plumb line it would be 8 um off.
    expect(fast(Float64Array.from(heave))).toBeGreaterThan(2e-5);
    expectWithin(fast(less(deck.heaveM!.values, heave)), 0, { abs: 1e-6, why: second }, 'heave');
  });

  it('keeps its heave under slow pans and tilts of the head', () => {
    const { motion, states } = truePass(0, 0.3);
    const off = less(
      deckOf(motion, 0).heaveM!.values,
      states.map(({ heaveM }) => heaveM),
    );
    expectWithin(fast(off), 0, {
      abs: 1.5e-6,
      why: '0.3 degrees of tilt times the way that pitch carries the lens',
    });
  });

  it('stands where its rear axle was', () => {
    const { motion, placeM } = truePass(0);
    const deck = deckOf(motion, 0);
    const off = deck.rearM.map((value, i) => value - placeM[i]);
    const wander = {
      abs: 0.004,
      why: 'a pace that wanders by 2 %, seen through rough floor and a 0.8 Hz low-pass',
    };
    for (const value of off) expectWithin(value, 0, wander);
  });
});

describe('the places of the rear axle', () => {
  it('are even at a steady pace, from 0 at the first frame', () => {
    const { rearM, timeS } = deckOf(madeUpPass({ seed: 1, gdM3: 6e-8, speedMps: 0.5, durationS: 10 }), 0);
    const exact = { abs: 1e-9, why: 'one speed times time' };
    const speedMps = rearM[1] * 25;
    timeS.forEach((t, i) => expectWithin(rearM[i], speedMps * t, exact));
    expectWithin(speedMps, 0.5, { rel: 0.005, why: 'travel counts to the end of the last frame' });
  });

  it('follow a pace that wanders, rising strictly', () => {
    const motion = madeUpPass({ seed: 1, gdM3: 6e-8, speedMps: 0.2, wobble: 0.1 });
    const { rearM } = deckOf(motion, 0);
    const true0 = (t: number): number =>
      0.2 * (t + (0.6 / (2 * Math.PI)) * (1 - Math.cos((2 * Math.PI * t) / 6)));
    let last = -1;
    rearM.forEach((place, i) => {
      expect(place).toBeGreaterThan(last);
      last = place;
      // Steady it would be 38 mm off at the crests.
      expectWithin(place, true0(i / 25), { abs: 0.025, why: 'scale of travel over time, 0.5 %, of 4 m' });
    });
  });

  it('count on from the first frame when the dolly stood before it rolled', () => {
    const motion = madeUpPass({ seed: 1, gdM3: 1e-6, standingS: 5 });
    const rig = madeUpRig(0.15);
    const { pass } = readPass(motion, rig);
    const deck = rolledDeck(pass!, motion);
    expect(pass!.travel.fromFrame).toBeGreaterThan(100);
    expectWithin(deck.timeS[0], pass!.travel.fromFrame / 25, { abs: 1e-9, why: 'stamps' });
    expectWithin(deck.rearM[0], 0, { abs: 0.02, why: 'standing still until half a second before' });
    expectWithin(deck.rearM[deck.rearM.length - 1], 3, { abs: 0.05, why: '15 s at 0.2 m/s' });
  });

  it('start below 0 where the dolly first rolled the other way', () => {
    // 4 s back at 0.2 m/s, then 8 s ahead.
    const timeS = Float64Array.from({ length: 300 }, (_, i) => i / 25);
    const still = new Float64Array(300);
    const axial = timeS.map((t) => (t < 4 ? -0.2 * t : -0.8 + 0.2 * (t - 4)));
    const path = { pan: still, tilt: still, roll: still, lateral: still, vertical: still, axial };
    const motion = motionOf(path, timeS, 25, 2.4);
    const { rearM } = rolledDeck(readPass(motion, madeUpRig(0.2)).pass!, motion);
    expectWithin(rearM[0], -0.8, { abs: 0.06, why: 'the turn is rounded by the 0.8 Hz low-pass' });
    expectWithin(rearM[rearM.length - 1], 0.8, { abs: 0.02, why: 'straight ahead from there' });
  });
});

describe('the front axle', () => {
  it('is a wheelbase ahead, or as far as the notches say', () => {
    const deck = deckOf(madeUpPass({ seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS: 4 }), 0);
    expect(deck.frontAheadM).toBe(0.45);
    const moved = withPhase(deck, 1.02);
    expectWithin(moved.frontAheadM, 0.459, { abs: 1e-12, why: 'rounding' });
    expect(moved.wheelbaseM).toBe(0.45);
    expect(deck.frontAheadM).toBe(0.45);
  });
});

describe('the cut-off of the surface', () => {
  it('is lower on a head that is locked for sure, as far as three periods fit the pass', () => {
    const cutoffHz = (durationS: number, head?: 'locked'): number => {
      const motion = madeUpPass({ seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS });
      return readPass(motion, { ...madeUpRig(0.5), head }).pass!.cutoffHz;
    };
    expect(cutoffHz(12)).toBe(0.8);
    expect(cutoffHz(12, 'locked')).toBe(0.3);
    expectWithin(cutoffHz(6, 'locked'), 0.5, { abs: 1e-9, why: '3 periods in 6 s' });
  });
});
