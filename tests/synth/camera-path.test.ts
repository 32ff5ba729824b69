import { describe, expect, it } from 'vitest';
import { poseSeries } from '../../src/motion/index.js';
import { AXES, type Axis } from '../../src/run/index.js';
import {
  buildScene,
  cameraOf,
  makeCameraPath,
  renderFrame,
  resolveSynthOptions,
  startFilm,
  truthOf,
  type PartialSynthOptions,
} from '../../src/synth/index.js';
import { expectWithin } from '../support/expect-within.js';
import { pictureShift } from './picture-shift.js';

const [W, H] = [480, 270];

function only(axis: Axis, amount: number): NonNullable<PartialSynthOptions['vibration']> {
  const angular = axis === 'pan' || axis === 'tilt' || axis === 'roll';
  return angular ? { angularDegRms: { [axis]: amount } } : { translationMmRms: { [axis]: amount } };
}

/** How the picture of a wall moves at the left and at the right when one axis goes to its positive side. */
function pictureMotion(axis: Axis) {
  const options = resolveSynthOptions({
    scene: 'measuring-wall',
    move: 'static',
    widthPx: W,
    heightPx: H,
    durationS: 2,
    driftDeg: 0,
    vibration: only(
      axis,
      axis === 'axial' ? 1 : axis === 'roll' ? 0.03 : axis === 'pan' || axis === 'tilt' ? 0.01 : 0.5,
    ),
  });
  const path = makeCameraPath(options);
  const rotations = Float64Array.from(
    Array.from(path.timesS).flatMap((t) => Array.from(path.poseAt(t).rotation)),
  );
  const centres = Float64Array.from(
    Array.from(path.timesS).flatMap((t) => Array.from(path.poseAt(t).centre)),
  );
  const series = poseSeries(rotations, centres)[axis];
  const low = series.indexOf(Math.min(...series));
  const high = series.indexOf(Math.max(...series));
  const scene = buildScene(options, path);
  const grey = (i: number) => renderFrame(scene, path.poseAt(path.timesS[i]), cameraOf(options)).grey;
  const [a, b] = [grey(low), grey(high)];
  const y = { y0: H / 2 - 40, y1: H / 2 + 40 };
  return {
    left: pictureShift(a, b, W, { x0: 20, x1: 100, ...y }),
    right: pictureShift(a, b, W, { x0: W - 100, x1: W - 20, ...y }),
  };
}

describe('signs of the axes, as the picture shows them', () => {
  it('pan to the right moves the picture to the left', () => {
    const { left, right } = pictureMotion('pan');
    expect(left.xPx).toBeLessThan(-0.05);
    expect(right.xPx).toBeLessThan(-0.05);
  });
  it('tilt up moves the picture down', () => {
    const { left, right } = pictureMotion('tilt');
    expect(left.yPx).toBeGreaterThan(0.05);
    expect(right.yPx).toBeGreaterThan(0.05);
  });
  it('roll clockwise turns the picture counter-clockwise', () => {
    const { left, right } = pictureMotion('roll');
    expect(left.yPx).toBeGreaterThan(0.05);
    expect(right.yPx).toBeLessThan(-0.05);
  });
  it('a move to the right moves the picture to the left', () => {
    const { left, right } = pictureMotion('lateral');
    expect(left.xPx).toBeLessThan(-0.05);
    expect(right.xPx).toBeLessThan(-0.05);
  });
  it('a move up moves the picture down', () => {
    const { left, right } = pictureMotion('vertical');
    expect(left.yPx).toBeGreaterThan(0.05);
    expect(right.yPx).toBeGreaterThan(0.05);
  });
  it('a move forward spreads the picture', () => {
    const { left, right } = pictureMotion('axial');
    expect(left.xPx).toBeLessThan(-0.02);
    expect(right.xPx).toBeGreaterThan(0.02);
  });
});

describe('vibration', () => {
  const asked = { pan: 0.03, tilt: 0.02, roll: 0.04, lateral: 0.3, vertical: 0.2, axial: 0.25 };
  const vibration = {
    angularDegRms: { pan: asked.pan, tilt: asked.tilt, roll: asked.roll },
    translationMmRms: { lateral: asked.lateral, vertical: asked.vertical, axial: asked.axial },
    peaks: [{ freqHz: 6.2, share: 0.4 }],
  };

  it.each([
    ['lateral', 25],
    ['arc', '24000/1001'],
    ['pushIn', 50],
    ['static', 30],
  ] as const)('has the RMS that was asked for above 0.8 Hz on every axis (%s, %s fps)', (move, fps) => {
    const truth = truthOf(
      startFilm(resolveSynthOptions({ move, fps, vibration, widthPx: 64, heightPx: 36 })),
    );
    for (const axis of AXES) {
      // Slow changes of speed leave up to 10 um in the band along the travel.
      const leak = axis === 'lateral' || axis === 'axial' || axis === 'vertical' ? 0.012 : 0.0002;
      expectWithin(
        truth.vibrationRms[axis],
        asked[axis],
        { abs: leak, why: 'slow move that leaks into the band' },
        axis,
      );
    }
  });

  it('is silent on axes that were not asked for', () => {
    const truth = truthOf(
      startFilm(
        resolveSynthOptions({ vibration: only('tilt', 0.05), widthPx: 64, heightPx: 36, move: 'static' }),
      ),
    );
    expectWithin(truth.vibrationRms.tilt, 0.05, { rel: 1e-3, why: 'small-angle cross terms' });
    for (const axis of ['pan', 'roll', 'lateral', 'vertical', 'axial'] as const) {
      expectWithin(truth.vibrationRms[axis], 0, { abs: 1e-4, why: 'second-order terms of slow drift' }, axis);
    }
  });
});

describe('moves', () => {
  const base = { durationS: 4, speedMps: 0.25, speedWander: 0, driftDeg: 0 } as const;
  const endOf = (given: PartialSynthOptions) => {
    const path = makeCameraPath(resolveSynthOptions({ ...base, ...given }));
    return Array.from(path.poseAt(4).centre);
  };

  it('go where the lens azimuth says', () => {
    const ways = [
      [{ move: 'lateral' }, [1, 0, 0]],
      [{ move: 'lateral', lensAzimuthDeg: 90 }, [-1, 0, 0]],
      [{ move: 'pushIn' }, [0, 0, 1]],
      [{ move: 'pushIn', lensAzimuthDeg: 180 }, [0, 0, -1]],
    ] as const;
    for (const [given, expected] of ways) {
      endOf(given).forEach((value, i) => expectWithin(value, expected[i], { abs: 1e-12 }));
    }
  });

  it('on an arc keep the same distance from its middle and look at it', () => {
    const options = resolveSynthOptions({ ...base, move: 'arc', arcRadiusM: 2 });
    const path = makeCameraPath(options);
    const { rotation, centre } = path.poseAt(3);
    const away = [0 - centre[0], 0 - centre[1], 2 - centre[2]];
    expectWithin(Math.hypot(...away), 2, { abs: 1e-12 });
    expectWithin(rotation[0] * away[0] + rotation[2] * away[2], 0, { abs: 1e-12 }, 'middle, to the right');
  });
});
