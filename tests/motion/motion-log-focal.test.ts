/** A wrong focal length as a motion log shows it: pan and tilt off alike, roll not. */
import { describe, expect, it } from 'vitest';
import { compareMotionLog, focalFactor } from '../../src/motion/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpComparison } from './support/made-up-log.js';

/** An axis with a gain and its interval; it agrees where the gain is near 1. */
function axis(gain: number | null, half = 0.01, correlation = 0.99) {
  return {
    correlation,
    gain,
    gainCi95: gain === null ? null : ([gain - half, gain + half] as const),
    agrees: gain === null || Math.abs(gain - 1) < 0.02,
  };
}

describe('the focal length that a motion log hints at', () => {
  it('is off by the mean factor of pan and tilt where both are alike and roll is in step', () => {
    expectWithin(focalFactor({ pan: axis(1.323), tilt: axis(1.377), roll: axis(0.974) }) ?? NaN, 1.35, {
      abs: 0.001,
      why: 'the geometric mean of two gains',
    });
    expectWithin(focalFactor({ pan: axis(0.7), tilt: axis(0.72), roll: null }) ?? NaN, 0.71, { abs: 0.001 });
    expect(focalFactor({ pan: axis(1.25, 0.15), tilt: axis(1.4), roll: axis(1) })).not.toBeNull();
    expect(focalFactor({ pan: axis(1.03), tilt: axis(1.025), roll: axis(1) })).not.toBeNull();
  });

  it.each([
    ['pan and tilt go apart', axis(1.1), axis(1.4), axis(1)],
    ['one is too large and one too small', axis(1.1), axis(0.9), axis(1)],
    ['roll is off as much', axis(1.3), axis(1.3), axis(1.3)],
    ['roll runs the other way round', axis(1.3), axis(1.3), axis(-1)],
    ['pan alone differs', axis(1.3), axis(1), axis(1)],
    ['small differences could be chance', axis(1.03, 0.05), axis(1.03, 0.05), axis(1)],
    ['tilt is another motion', axis(1.3), axis(1.3, 0.01, 0.6), axis(1)],
    ['there is no gain', axis(null), axis(1.3), axis(1)],
    ['an axis was not logged', axis(1.3), null, axis(1)],
    ['all agree', axis(1.01), axis(1.01), axis(1)],
  ])('is not blamed where %s', (_, pan, tilt, roll) => {
    expect(focalFactor({ pan, tilt, roll })).toBeNull();
  });

  it.each([1.43, 1 / 1.43])('is named in a warning when it is %d times what it should be', (tooLong) => {
    const { motion, log, exposureS } = madeUpComparison({ seed: 4 });
    const shrunk = (column: Float64Array): Float64Array => column.map((v) => v / tooLong);
    const { path, vibration } = motion;
    const wrong = {
      ...motion,
      path: { ...path, pan: shrunk(path.pan), tilt: shrunk(path.tilt) },
      vibration: { ...vibration, pan: shrunk(vibration.pan), tilt: shrunk(vibration.tilt) },
    };
    const { warnings } = compareMotionLog(wrong, log, exposureS);
    const named = warnings.find(({ code }) => code === 'motion-log-focal-length');
    expect(named?.text).toMatch(
      tooLong > 1
        ? /about 1\.4\d times too long/
        : /about 0\.(69|70|71) times as much.* 1\.4\d times too short/,
    );
    const unsplit = {
      cause: 'flatScene',
      ifAllAngular: { panRad: 0, tiltRad: 0 },
      ifAllTranslation: { lateral: 0, vertical: 0 },
      change: [],
    } as const;
    const vague = { ...wrong, separation: { ...wrong.separation, unsplit } };
    expect(compareMotionLog(vague, log, exposureS).warnings.map(({ code }) => code)).toEqual([
      'motion-log-differs',
    ]);
  });
});
