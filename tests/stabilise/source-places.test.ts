import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyHomography,
  rotationFromAngles,
  rotationHomography,
  type Camera,
} from '../../src/optics/index.js';
import { sourcePlaces, type FrameTurn } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { correctedPlace } from './support/plain-correction.js';
import { evenly } from '../support/evenly.js';

const camera = plainCamera(1920, 1080, 1866.7);
const wide: Camera = {
  ...plainCamera(1920, 1080, 1200),
  centreXPx: 965,
  centreYPx: 531,
  distortion: { k1: -0.12, k2: 0.02, p1: 5e-4, p2: -3e-4, k3: 0 },
};
const ROWS_PX = {
  abs: 2e-3,
  why: 'rotations are straight between knots: (2 mrad)^2 / 8 on three axes; the row of a point is settled to 2e-4 px',
};

const still: FrameTurn = { pan: 0, tilt: 0, roll: 0, rows: null };
const angle = evenly(-0.05, 0.05);
// From knot to knot up to 2 mrad, as in a shake of one degree within a readout.
const changes = fc.array(evenly(-1e-3, 1e-3), { minLength: 5, maxLength: 5 });
const turned = fc
  .tuple(angle, angle, angle, changes, changes, changes)
  .map(([pan, tilt, roll, ...rows]): FrameTurn => {
    const [panRows, tiltRows, rollRows] = rows.map((column) => Float64Array.from(column));
    return { pan, tilt, roll, rows: { knots: 5, pan: panRows, tilt: tiltRows, roll: rollRows } };
  });

function placeOf(turn: FrameTurn, each: Camera, x: number, y: number): { xPx: number; yPx: number } {
  const outX = new Float64Array(1);
  const outY = new Float64Array(1);
  sourcePlaces(turn, each, Float64Array.of(x), Float64Array.of(y), outX, outY);
  return { xPx: outX[0], yPx: outY[0] };
}

describe('where a stabilised picture comes from', () => {
  it('is the frame itself when nothing turned', () => {
    for (const each of [camera, wide]) {
      const place = placeOf(still, each, 33.25, 1000);
      expectWithin(place.xPx, 33.25, { abs: 1e-8, why: 'inverse of the distortion' });
      expectWithin(place.yPx, 1000, { abs: 1e-8, why: 'inverse of the distortion' });
    }
  });

  it('follows the homography of the turn where lens and rows are straight', () => {
    const turn = { ...still, pan: 0.02, tilt: -0.01, roll: 0.03 };
    const homography = rotationHomography(camera, rotationFromAngles(turn.pan, turn.tilt, turn.roll));
    for (const [x, y] of [
      [0, 0],
      [960, 540],
      [1919, 3],
      [-200, 1300],
    ]) {
      const place = placeOf(turn, camera, x, y);
      const expected = applyHomography(homography, x, y);
      expectWithin(place.xPx, expected?.xPx ?? NaN, { abs: 1e-9, why: 'double rounding at pixel scale' });
      expectWithin(place.yPx, expected?.yPx ?? NaN, { abs: 1e-9, why: 'double rounding at pixel scale' });
    }
  });

  it('is to the right of and above where the camera panned right and tilted up from', () => {
    // A camera that panned right shows a thing further left.
    expect(placeOf({ ...still, pan: 0.01 }, camera, 960, 540).xPx).toBeLessThan(960 - 18);
    expect(placeOf({ ...still, tilt: 0.01 }, camera, 960, 540).yPx).toBeGreaterThan(540 + 18);
  });

  it('undoes the correction of every point, through a bent lens and rows that turn', () => {
    const column = evenly(-0.5, 1919.5);
    const row = evenly(-0.5, 1079.5);
    fc.assert(
      fc.property(turned, column, row, fc.constantFrom(camera, wide), (turn, x, y, each) => {
        const corrected = correctedPlace(each, turn, x, y);
        const place = placeOf(turn, each, corrected.xPx, corrected.yPx);
        expectWithin(place.xPx, x, ROWS_PX, 'column');
        expectWithin(place.yPx, y, ROWS_PX, 'row');
      }),
      { seed: 222, numRuns: 300 },
    );
  });

  it('straightens the shear of a pan during the readout', () => {
    // Long lens: 1 mrad is 10 px; top rows were read before, bottom rows after the middle.
    const long = plainCamera(1920, 1080, 10000);
    const rows = {
      knots: 2,
      pan: Float64Array.of(-1e-3, 1e-3),
      tilt: new Float64Array(2),
      roll: new Float64Array(2),
    };
    const turn = { ...still, rows };
    for (const [y, shiftPx] of [
      [-0.5, 10],
      [269.5, 5],
      [539.5, 0],
      [1079.5, -10],
    ]) {
      const place = placeOf(turn, long, 959.5, y);
      expectWithin(place.xPx, 959.5 + shiftPx, { abs: 1e-3, why: 'tangent of a milliradian' }, `row ${y}`);
      expectWithin(place.yPx, y, { abs: 1e-3, why: 'a pan moves no row in the middle column' });
    }
  });

  it('takes the edge row for points that come from beyond it', () => {
    const rows = {
      knots: 2,
      pan: Float64Array.of(-1e-3, 1e-3),
      tilt: new Float64Array(2),
      roll: new Float64Array(2),
    };
    const beyond = placeOf({ ...still, rows }, camera, 959.5, -300);
    const edge = placeOf({ ...still, pan: -1e-3 }, camera, 959.5, -300);
    expect(beyond).toEqual(edge);
  });

  it('is nowhere for points behind the camera or past the fold of the lens model', () => {
    expect(placeOf({ ...still, pan: 1.5 }, camera, -900, 500)).toEqual({ xPx: NaN, yPx: NaN });
    // r (1 - 0.3 r^2) turns back at r = 1.05: 0.7 rad off an edge at 0.8 would come back into the picture.
    const folding = {
      ...plainCamera(1920, 1080, 1500),
      distortion: { k1: -0.3, k2: 0, p1: 0, p2: 0, k3: 0 },
    };
    expect(placeOf({ ...still, pan: -0.7 }, folding, 1900, 540)).toEqual({ xPx: NaN, yPx: NaN });
    expect(placeOf(still, folding, 1900, 540).xPx).toBeGreaterThan(1899);
  });

  it('refuses columns of different length and leaves its input as it was', () => {
    const two = Float64Array.of(1, 2);
    expect(() => sourcePlaces(still, camera, two, two, new Float64Array(1), new Float64Array(2))).toThrow(
      RangeError,
    );
    sourcePlaces({ ...still, pan: 0.1 }, wide, two, two, new Float64Array(2), new Float64Array(2));
    expect(two).toEqual(Float64Array.of(1, 2));
  });
});
