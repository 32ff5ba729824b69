import { describe, expect, it } from 'vitest';
import { findTravel } from '../../../src/surface/deck/travel.js';
import { expectWithin } from '../../support/expect-within.js';
import { motionOf, withoutTranslation } from '../support/made-up-pass.js';

const FPS = 25;
const N = 250;
const timeS = Float64Array.from({ length: N }, (_, i) => i / FPS);
const flat = new Float64Array(N);
const ANGLE = { abs: 1e-6, why: 'straight travel without noise' };

/** A straight way in the camera's own directions, `place` metres along it at each frame. */
function travelAlong(lateral: number, vertical: number, axial: number, place = timeS.map((t) => 0.2 * t)) {
  const path = {
    pan: flat,
    tilt: flat,
    roll: flat,
    lateral: place.map((s) => s * lateral),
    vertical: place.map((s) => s * vertical),
    axial: place.map((s) => s * axial),
  };
  return motionOf(path, timeS, FPS, 2);
}

describe('the travel of a pass', () => {
  it.each([
    [0, 0, 1],
    [90, -1, 0],
    [180, 0, -1],
    [-90, 1, 0],
  ])('is seen at a lens azimuth of %d degrees', (azimuthDeg, lateral, axial) => {
    const travel = findTravel(travelAlong(lateral, 0, axial), 0.2);
    const offRad = travel.azimuthRad! - (azimuthDeg * Math.PI) / 180;
    expectWithin(Math.cos(offRad), 1, ANGLE);
    expectWithin(travel.tiltRad, 0, ANGLE);
  });

  it.each([1, -1])('shows a lens tilted down by 20 degrees, ahead and back (%d)', (way) => {
    const down = (20 * Math.PI) / 180;
    const travel = findTravel(travelAlong(0, way * Math.sin(down), way * Math.cos(down)), 0.2);
    expectWithin(travel.tiltRad, -down, ANGLE);
    expectWithin(Math.abs(travel.azimuthRad!), way > 0 ? 0 : Math.PI, ANGLE);
  });

  it('at an even pace makes even way; without translation it is taken as even', () => {
    const travel = findTravel(travelAlong(0, 0, 1), 0.2);
    travel.placeM.forEach((place, i) => expectWithin(place, 0.2 * timeS[i], { abs: 1e-6, why: 'even pace' }));
    expectWithin(travel.speedMps, 0.2, { rel: 1e-6, why: 'even pace' });
    const unseen = findTravel(withoutTranslation(travelAlong(0, 0, 1)), 0.3);
    expectWithin(unseen.placeM[N - 1], 0.3 * timeS[N - 1], { abs: 1e-9, why: 'even pace' });
    expect(unseen.azimuthRad).toBeNull();
  });

  it('there and back counts the longer way only', () => {
    // 6 s ahead, then 4 s back, at 0.2 m/s.
    const place = timeS.map((t) => (t < 6 ? 0.2 * t : 1.2 - 0.2 * (t - 6)));
    const travel = findTravel(travelAlong(0, 0, 1, place), 0.2);
    expect(travel.fromFrame).toBe(0);
    expectWithin(travel.toFrame / FPS, 6, { abs: 0.4, why: 'the turn is rounded by the 0.8 Hz low-pass' });
    expectWithin(travel.azimuthRad!, 0, ANGLE);
    expect(travel.speedVariation).toBeGreaterThan(0.01);
  });
});
