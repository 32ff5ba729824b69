import { describe, expect, it } from 'vitest';
import type { Motion } from '../../../src/motion/index.js';
import { agrees, carriedHeight, type CarriedHeight } from '../../../src/surface/deck/consistency.js';
import { lensPath } from '../../../src/surface/deck/lens-path.js';
import { readPass } from '../../../src/surface/deck/pass.js';
import { rolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { shakeOf } from '../../../src/surface/deck/shake.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpPass, madeUpRig } from '../support/made-up-pass.js';

const HEIGHT_M = 0.9;

function passAt(azimuthDeg: number, gdM3 = 1e-6, seed = 1): Motion {
  return madeUpPass({ seed, gdM3, speedMps: 0.5, durationS: 12, azimuthDeg });
}

const rigAt = (azimuthDeg: number, cameraHeightM = HEIGHT_M) =>
  madeUpRig(0.5, { lensAzimuthDeg: azimuthDeg, cameraHeightM });

function heightOf(motion: Motion, azimuthDeg: number): CarriedHeight | null {
  const { mounting, travel } = readPass(motion, rigAt(azimuthDeg)).pass!;
  const { pitchRad, way } = lensPath(motion, mounting, travel);
  return carriedHeight(shakeOf(way!.forwardM, 25, 0.8), shakeOf(pitchRad, 25, 0.8));
}

/** The pass on a mount that gives way: the lens turns by more than the deck that carries it. */
function flexing(motion: Motion, gain: number): Motion {
  const tilt = motion.path.tilt.map((value) => gain * value);
  return { ...motion, path: { ...motion.path, tilt } };
}

describe('the height at which pitch carries the lens', () => {
  it.each([0, 90, 180, 35])('is that of the lens, looking at %d degrees', (azimuthDeg) => {
    for (const seed of [1, 2]) {
      const found = heightOf(passAt(azimuthDeg, 1e-6, seed), azimuthDeg)!;
      expectWithin(found.heightM, HEIGHT_M, { abs: 0.05 + 2 * found.sdM, why: 'noise of 12 s' });
      expect(found.sdM).toBeLessThan(0.08);
    }
  });

  it('is not read from a pitch that drowns in noise', () => {
    expect(heightOf(passAt(0, 1e-8), 0)).toBeNull();
  });

  it('agrees within 15 % and two standard deviations', () => {
    expect(agrees({ heightM: 1.03, sdM: 0 }, 0.9)).toBe(true);
    expect(agrees({ heightM: 1.05, sdM: 0 }, 0.9)).toBe(false);
    expect(agrees({ heightM: 1.05, sdM: 0.02 }, 0.9)).toBe(true);
    expect(agrees({ heightM: 0.7, sdM: 0.02 }, 0.9)).toBe(false);
  });
});

describe('a deck that is not rigid, or a height that is not so', () => {
  const warned = (motion: Motion, azimuthDeg: number, heightM?: number): string[] =>
    readPass(motion, rigAt(azimuthDeg, heightM)).warnings.map(({ code }) => code);

  it.each([0, 35])('is named, and heave left out, lens at %d degrees', (azimuthDeg) => {
    const motion = passAt(azimuthDeg);
    expect(warned(motion, azimuthDeg)).toEqual([]);
    expect(warned(motion, azimuthDeg, 0.6)).toEqual(['deck-not-rigid']);
    const { pass } = readPass(motion, rigAt(azimuthDeg, 0.6));
    const deck = rolledDeck(pass!, motion);
    expect(deck.heaveM).toBeNull();
    expect(deck.pitchRad).not.toBeNull();
    expect(deck.rollRad).not.toBeNull();
  });

  it('shows where the mount doubles the tilt', () => {
    expect(warned(flexing(passAt(0), 2), 0)).toEqual(['deck-not-rigid']);
  });

  it('is not suspected without a height, nor when the picture does not tell the way ahead', () => {
    const motion = flexing(passAt(0), 2);
    expect(readPass(motion, madeUpRig(0.5)).warnings).toEqual([]);
    const axial = { ...motion.axes.axial, status: 'notObservable' } as const;
    expect(warned({ ...motion, axes: { ...motion.axes, axial } }, 0)).toEqual([]);
  });
});
