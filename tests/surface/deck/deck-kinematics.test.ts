import { describe, expect, it } from 'vitest';
import {
  cameraFromDeck,
  deckFromCamera,
  levelled,
  turnedSd,
} from '../../../src/surface/deck/deck-kinematics.js';
import { expectWithin } from '../../support/expect-within.js';

const EXACT = { abs: 1e-12, why: 'rounding of sine and cosine' };
const rad = (deg: number): number => (deg * Math.PI) / 180;
const noseUp = Float64Array.of(0.003);
const leftUp = Float64Array.of(0.0007);

describe('lens azimuth on the deck', () => {
  // Looking ahead the nose is the lens; looking back it is behind it; looking right (left) it is on the left (right) of the picture.
  it.each([
    [0, 0.003, 0.0007],
    [90, -0.0007, 0.003],
    [180, -0.003, -0.0007],
    [-90, 0.0007, -0.003],
  ])('at %d degrees shows nose-up and left-side-up as the right tilt and roll', (azimuthDeg, tilt, roll) => {
    const seen = cameraFromDeck([noseUp, leftUp], rad(azimuthDeg));
    expectWithin(seen[0][0], tilt, EXACT, 'tilt');
    expectWithin(seen[1][0], roll, EXACT, 'roll');
  });

  it.each([0, 90, 180, -90, 35])('at %d degrees gives the deck back from the camera', (azimuthDeg) => {
    const [pitch, roll] = deckFromCamera(cameraFromDeck([noseUp, leftUp], rad(azimuthDeg)), rad(azimuthDeg));
    expectWithin(pitch[0], noseUp[0], EXACT, 'pitch');
    expectWithin(roll[0], leftUp[0], EXACT, 'roll');
  });

  // Nose up carries a lens of height h back, left side up carries it right: h q to the right of travel, -h p ahead of it.
  const toRight = Float64Array.of(0.9 * 0.0007);
  const ahead = Float64Array.of(0.2 - 0.9 * 0.003);
  it.each([
    [0, 0.00063, 0.1973],
    [90, -0.1973, 0.00063],
    [180, -0.00063, -0.1973],
    [-90, 0.1973, -0.00063],
  ])(
    'at %d degrees shows the way of the lens as the right lateral and axial',
    (azimuthDeg, lateral, axial) => {
      const seen = cameraFromDeck([toRight, ahead], rad(azimuthDeg));
      expectWithin(seen[0][0], lateral, EXACT, 'lateral');
      expectWithin(seen[1][0], axial, EXACT, 'axial');
    },
  );

  it.each([0, 90, 180, -90, 35])('at %d degrees gives the way of the deck back', (azimuthDeg) => {
    const [right, forward] = deckFromCamera(
      cameraFromDeck([toRight, ahead], rad(azimuthDeg)),
      rad(azimuthDeg),
    );
    expectWithin(right[0], toRight[0], EXACT, 'lateral');
    expectWithin(forward[0], ahead[0], EXACT, 'forward');
  });

  it('at 35 degrees mixes both angles, the ahead one the more', () => {
    const [tilt, roll] = cameraFromDeck([noseUp, leftUp], rad(35));
    expectWithin(tilt[0], 0.003 * 0.8191520443 - 0.0007 * 0.5735764364, EXACT, 'tilt');
    expectWithin(roll[0], 0.0007 * 0.8191520443 + 0.003 * 0.5735764364, EXACT, 'roll');
  });

  it('swaps the noise of tilt and roll at 90 degrees', () => {
    const [pitchSd, rollSd] = turnedSd([1, 1.2], rad(90));
    expectWithin(pitchSd, 1.2, EXACT);
    expectWithin(rollSd, 1, EXACT);
  });

  it('shows a lens that is tilted down its way ahead as partly upwards, and levels that', () => {
    const tiltRad = rad(-20);
    // A level way of 1 m: along the lens cos 20, across it + sin 20, for the top of the picture leans forward.
    const [up, forward] = levelled(
      [Float64Array.of(Math.sin(rad(20))), Float64Array.of(Math.cos(rad(20)))],
      tiltRad,
    );
    expectWithin(up[0], 0, EXACT, 'up');
    expectWithin(forward[0], 1, EXACT, 'forward');
  });

  it('leaves its inputs alone', () => {
    const pitch = Float64Array.of(1, 2);
    const roll = Float64Array.of(3, 4);
    cameraFromDeck([pitch, roll], 1);
    expect([...pitch, ...roll]).toEqual([1, 2, 3, 4]);
  });
});
