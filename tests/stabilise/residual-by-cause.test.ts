import { describe, expect, it } from 'vitest';
import {
  fourthDifferenceSmooth,
  gaussianRandom,
  mean,
  quantile,
  rms,
  seededRandom,
} from '../../src/numerics/index.js';
import { ANGULAR_AXES } from '../../src/run/index.js';
import { residualOf } from '../../src/stabilise/index.js';
import { changeWithinFrame } from '../../src/stabilise/turn/change-within-frame.js';
import type { Left, Residual } from '../../src/stabilise/residual/residual-types.js';
import type { AngularVibration } from '../../src/stabilise/types.js';
import { vibrationAt } from '../../src/stabilise/path/vibration-at.js';
import type { Motion } from '../../src/motion/index.js';
import { expectWithin } from '../support/expect-within.js';
import { ROOM_DEPTH, madeMotion, unitShake, type MadeMotion } from './support/made-motion.js';
import { NARROW_LEVER, residualCase, residualInput } from './support/residual-case.js';

const F = 3000;
const SPLIT = {
  rel: 0.02,
  why: 'the 0.8 Hz split takes a per cent of the slowest sine, the border a per cent more',
};
const RHO = Math.hypot(ROOM_DEPTH.meanInverse, ROOM_DEPTH.sdInverse);
const px = (left: Left | null): number => left?.rmsPx ?? NaN;

/** What is left when each target path follows the motion below a cut-off. */
function leftAt(motion: Motion, smoothingS: number): Residual {
  const { pan, tilt, roll } = vibrationAt(motion, smoothingS).series;
  return residualOf(residualInput(motion, { correctionsVibration: { pan, tilt, roll } }));
}

describe('what is left of a translation', () => {
  it('is focal length times inverse depth times the move; its spread in depth is parallax', () => {
    const { status, total, causes } = residualCase({ path: { lateral: (s) => 1e-3 * unitShake(1)(s) } });
    expect(status).toBe('value');
    expectWithin(px(causes.translation), F * 1e-3 * RHO, SPLIT);
    expectWithin(px(causes.parallax), F * 1e-3 * ROOM_DEPTH.sdInverse, SPLIT);
    expectWithin(px(total), px(causes.translation), { rel: 1e-9, why: 'the only cause' });
  });

  it('is one along the lens by the distance from the middle', () => {
    const { causes } = residualCase({ path: { axial: (s) => 1e-2 * unitShake(1)(s) } });
    expectWithin(px(causes.translation), NARROW_LEVER * 1e-2 * RHO, SPLIT);
  });

  it('has the 95th percentile of its frames', () => {
    const motion = madeMotion({ path: { lateral: (s) => 1e-3 * unitShake(1)(s) } });
    const { translation } = residualOf(residualInput(motion)).causes;
    const inner = motion.vibration.lateral.slice(motion.trimFrames, -motion.trimFrames).map(Math.abs);
    expectWithin(translation?.p95Px ?? NaN, F * RHO * quantile(inner, 0.95), {
      rel: 0.02,
      why: 'squares are interpolated',
    });
  });

  it('does not count noise as shake, in its extremes neither', () => {
    const gaussian = gaussianRandom(seededRandom(11));
    const shake = unitShake(1);
    const noisy = residualCase({
      path: { lateral: (s) => 3e-4 * shake(s) + 2e-4 * gaussian() },
      noiseSd: { lateral: 2e-4 },
      durationS: 40,
    }).causes.translation;
    const clean = residualCase({ path: { lateral: (s) => 3e-4 * shake(s) }, durationS: 40 }).causes
      .translation;
    const SAMPLING = { rel: 0.12, why: 'sampling of 1000 noisy frames' };
    expectWithin(px(noisy), px(clean), SAMPLING);
    expectWithin(noisy?.p95Px ?? NaN, clean?.p95Px ?? NaN, SAMPLING);
  });

  it('is the same whatever the target path', () => {
    const motion = madeMotion({
      path: { lateral: (s) => 1e-3 * unitShake(1)(s), pan: (s) => 1e-3 * unitShake(2)(s) },
    });
    for (const smoothingS of [0.25, 0.6, 2]) {
      expect(leftAt(motion, smoothingS).causes.translation).toEqual(leftAt(motion, 1.25).causes.translation);
    }
  });
});

describe('what is left where translation is not seen', () => {
  const below = { lateral: 'below', vertical: 'below', axial: 'below' } as const;

  it('is an upper bound when every axis lies below the noise', () => {
    const left = residualCase({ status: below, noiseSd: { lateral: 1e-4, vertical: 1e-4 } });
    expect(left.status).toBe('atMost');
    expect(left.total?.p95Px).toBeNull();
    expect(left.total?.arcMinP95).toBeNull();
    // Bound of the made record: twice the floor on both axes; the band keeps 0.936 of white noise.
    const bound = 2 * 1e-4 * Math.sqrt(0.936) * Math.SQRT2;
    expectWithin(px(left.total), F * RHO * bound, { rel: 1e-9, why: 'closed form' });
  });

  const unseen = { lateral: 'notObservable', vertical: 'notObservable', axial: 'notObservable' } as const;
  const unsplit = (lateral: number, made: MadeMotion = {}): Motion => ({
    ...madeMotion({ status: unseen, ...made }),
    observable: 'no',
    separation: {
      correlation: null,
      information: new Float64Array(0),
      unsplit: {
        cause: 'flatScene',
        ifAllAngular: { panRad: 1e-3, tiltRad: 1e-3 },
        ifAllTranslation: { lateral, vertical: 2e-3 },
        change: [],
      },
    },
  });

  it('is the bound "if all of it were translation" where pan and sideways could not be told apart', () => {
    const left = residualOf(residualInput(unsplit(1e-3)));
    expect(left.status).toBe('atMost');
    expectWithin(px(left.causes.translation), F * RHO * Math.hypot(1e-3, 2e-3), {
      rel: 1e-9,
      why: 'closed form',
    });
    expectWithin(px(left.causes.parallax), F * ROOM_DEPTH.sdInverse * Math.hypot(1e-3, 2e-3), {
      rel: 1e-9,
      why: 'closed form',
    });
  });

  it.each([
    ['the clip has no parallax', madeMotion({ depth: null })],
    ['one axis cannot be told, and no bound is known', madeMotion({ status: { lateral: 'notObservable' } })],
    ['there is no depth to a bound', unsplit(1e-3, { depth: null })],
    ['the bound is no number', unsplit(Infinity)],
  ])('is unknown, not zero, when %s', (_, motion) => {
    const { status, total, causes } = residualOf(residualInput(motion));
    expect(status).toBe('notObservable');
    expect([total, causes.translation, causes.parallax]).toEqual([null, null, null]);
    expect(causes.path.rmsPx).toBe(0);
  });
});

describe('what the target path still holds', () => {
  const motion = madeMotion({
    path: {
      pan: (s) => 0.05 * Math.sin(0.5 * s) + 1e-3 * unitShake(1)(s),
      tilt: (s) => 5e-4 * unitShake(2)(s),
      lateral: (s) => 2e-4 * unitShake(3)(s),
    },
    durationS: 20,
  });

  it('is nothing at the smoothing of the motion itself', () => {
    expect(residualOf(residualInput(motion)).causes.path).toMatchObject({ rmsPx: 0, p95Px: 0 });
  });

  it('is nothing for a path that stands still, or is smoother', () => {
    const still = Object.fromEntries(
      ANGULAR_AXES.map((axis) => [axis, motion.path[axis].map((v) => v - mean(motion.path[axis]))]),
    ) as unknown as AngularVibration;
    expect(residualOf(residualInput(motion, { correctionsVibration: still })).causes.path.rmsPx).toBe(0);
    expect(leftAt(motion, 2).causes.path.rmsPx).toBe(0);
  });

  it('grows as the path smooths less, up to the whole shake, and the total with it', () => {
    const sweep = [1.25, 0.7, 0.45, 0.3, 0.2].map((smoothingS) => leftAt(motion, smoothingS));
    for (let i = 1; i < sweep.length; i++) {
      expect(px(sweep[i].causes.path)).toBeGreaterThan(px(sweep[i - 1].causes.path));
      expect(px(sweep[i].total)).toBeGreaterThan(px(sweep[i - 1].total));
    }
    const none = motion.timeS.map(() => 0);
    const untouched = residualInput(motion, { correctionsVibration: { pan: none, tilt: none, roll: none } });
    expectWithin(px(residualOf(untouched).causes.path), F * Math.hypot(1e-3, 5e-4), SPLIT);
  });

  it('is judged by its frames: 95 of 100 hold less', () => {
    const taken = vibrationAt(motion, 0.3).series;
    const { path } = leftAt(motion, 0.3).causes;
    const held = (axis: 'pan' | 'tilt') => {
      const target = motion.path[axis].map((v, t) => v - taken[axis][t]);
      const slow = fourthDifferenceSmooth(target, 25, 0.8);
      return target.map((v, t) => v - slow[t]);
    };
    const [pan, tilt] = [held('pan'), held('tilt')];
    const perFrame = pan.map((v, t) => F * Math.hypot(v, tilt[t])).slice(12, -12);
    expectWithin(path.p95Px ?? NaN, quantile(perFrame, 0.95), SPLIT);
  });
});

describe('noise that the warp writes into the picture', () => {
  const sd = 1e-4;
  const noisy = (seed: number): Motion => {
    const gaussian = gaussianRandom(seededRandom(seed));
    return madeMotion({ path: { pan: () => sd * gaussian() }, noiseSd: { pan: sd }, durationS: 40 });
  };

  it('is the floor of the angles in px', () => {
    const { tracking, path } = residualOf(residualInput(noisy(1))).causes;
    // The band keeps 0.936 of white noise.
    expectWithin(px(tracking), F * sd * Math.sqrt(0.936), SPLIT);
    expectWithin((tracking.p95Px ?? NaN) / px(tracking), 1.96, {
      abs: 0.001,
      why: '97.5 % point of the normal distribution',
    });
    expect(path.rmsPx).toBe(0);
  });

  it('is the less the more of it the path keeps', () => {
    const motion = noisy(2);
    // White noise above 4 Hz only, of 12.5 Hz.
    expectWithin(px(leftAt(motion, 0.25).causes.tracking), F * sd * Math.sqrt(1 - 4 / 12.5), {
      rel: 0.03,
      why: 'shares of 500 bins, and the flanks of two filters',
    });
    expect(px(leftAt(motion, 0.25).causes.path)).toBeLessThan(0.3 * F * sd);
  });

  it('counts the error that regions of coded pictures share, too', () => {
    const motion = noisy(3);
    const coded = { ...motion.axes.pan, floor: 2 * motion.axes.pan.plainFloor };
    const left = residualOf(residualInput({ ...motion, axes: { ...motion.axes, pan: coded } }));
    expectWithin(px(left.causes.tracking), 2 * px(residualOf(residualInput(motion)).causes.tracking), {
      rel: 1e-9,
      why: 'in proportion',
    });
  });

  it('is none where nothing could be measured, and so nothing is turned back', () => {
    const motion = madeMotion({ depth: null });
    const unknown = {
      ...motion.axes.pan,
      status: 'notObservable',
      floor: Infinity,
      plainFloor: Infinity,
    } as const;
    const axes = { ...motion.axes, pan: unknown, tilt: unknown, roll: unknown };
    const { causes, total } = residualOf(residualInput({ ...motion, axes }));
    expect(causes.tracking.rmsPx).toBe(0);
    expect(causes.path.rmsPx).toBe(0);
    expect(total).toBeNull();
  });

  it('is none on a clip of a few frames, whose band begins above what its rate can hold', () => {
    const motion = { ...madeMotion({ durationS: 0.2, depth: null }), bandHz: [18.75, 12.5] as const };
    expect(residualOf(residualInput(motion)).causes.path.rmsPx).toBe(0);
  });
});

describe('what is left of a sensor read row by row', () => {
  const FREQ_HZ = 5;
  const amplitude = 2e-3;
  const pan: MadeMotion = { path: { pan: (s) => amplitude * Math.sin(2 * Math.PI * FREQ_HZ * s) } };
  const readoutS = 0.02;
  const times = { exposureS: 0.02, readoutS };

  it('is the change of the angle between mid-frame and each row', () => {
    let sum = 0;
    const rows = 1000;
    for (let i = 0; i < rows; i++) {
      const s = readoutS * ((i + 0.5) / rows - 0.5);
      sum += (2 * amplitude * Math.sin(Math.PI * FREQ_HZ * s)) ** 2 / 2;
    }
    const { causes, total } = residualCase(pan, { times });
    expectWithin(px(causes.readout), F * Math.sqrt(sum / rows), { rel: 0.02, why: 'eight bands of rows' });
    expect(causes.readoutWholeFrames).toEqual(causes.readout);
    expectWithin(px(total), px(causes.readout), { rel: 1e-9, why: 'no translation in this clip' });
    // The change of a sine is a sine: its 95th percentile is nearly its peak.
    expectWithin((causes.readout?.p95Px ?? NaN) / px(causes.readout), Math.SQRT2, {
      rel: 0.03,
      why: 'a sine',
    });
  });

  it('goes when every row is turned by its own angles, but for noise, and says what it would have been', () => {
    const whole = residualCase(pan, { times }).causes;
    const rows = residualCase(pan, { times, rowsCorrected: true }).causes;
    expect(rows.readout).toMatchObject({ rmsPx: 0, p95Px: 0 });
    expect(rows.readoutWholeFrames).toEqual(whole.readoutWholeFrames);

    const gaussian = gaussianRandom(seededRandom(4));
    const motion = madeMotion({
      path: { pan: () => 1e-4 * gaussian() },
      noiseSd: { pan: 1e-4 },
      durationS: 40,
    });
    const { causes } = residualOf(residualInput(motion, { times, rowsCorrected: true }));
    const seen = rms(
      Float64Array.from([-7, -5, -3, -1, 1, 3, 5, 7]).map((k) =>
        rms(changeWithinFrame(motion.path.pan, 25, 0, (k / 16) * readoutS)),
      ),
    );
    expect(px(causes.readout)).toBeGreaterThan(F * seen);
    // Next to half the frame rate rows are not corrected, so less noise is written.
    expect(px(causes.readout)).toBeLessThan(1.3 * F * seen);
    expect(px(causes.readoutWholeFrames)).toBeLessThan(0.5 * px(causes.readout));
  });

  it('is nothing when all rows are read at once, and unknown when nobody said', () => {
    expect(residualCase(pan, { times: { exposureS: 0.02, readoutS: 0 } }).causes.readout?.rmsPx).toBe(0);
    const { causes, total } = residualCase(pan);
    expect([causes.readout, causes.readoutWholeFrames]).toEqual([null, null]);
    expect(total).not.toBeNull();
  });
});

describe('the figures together', () => {
  const made: MadeMotion = {
    path: { lateral: (s) => 5e-4 * unitShake(1)(s), pan: (s) => 1e-3 * unitShake(2)(s) },
    noiseSd: { pan: 5e-5, tilt: 5e-5 },
    durationS: 20,
  };
  const motion = madeMotion(made);
  const taken = vibrationAt(motion, 0.4).series;
  const all = residualInput(motion, {
    correctionsVibration: taken,
    times: { exposureS: 0.02, readoutS: 0.02 },
  });

  it('are the root of the sum of squares of what moves the picture', () => {
    const { total, causes } = residualOf(all);
    const parts = [causes.translation, causes.path, causes.readout, causes.tracking].map(px);
    for (const part of parts) expect(part).toBeGreaterThan(0.05);
    expectWithin(px(total), Math.hypot(...parts), { rel: 1e-9, why: 'definition' });
    // Their extremes seldom fall on the same frame.
    const p95 = [causes.translation, causes.path, causes.readout, causes.tracking].map(
      (left) => left?.p95Px ?? NaN,
    );
    expect(total?.p95Px).toBeLessThan(Math.hypot(...p95));
    expect(total?.p95Px).toBeGreaterThan(Math.max(...p95.slice(0, 2)));
  });

  it('are given in minutes of arc of the viewer, too', () => {
    const delivery = { widthPx: 1920, heightPx: 1080, viewingDistanceHeights: 3.1 };
    const { total, causes } = residualOf({ ...all, delivery, pxScale: 2 });
    for (const left of [
      total,
      causes.translation,
      causes.path,
      causes.readout,
      causes.tracking,
      causes.blur,
    ]) {
      expectWithin(left?.arcMinRms ?? NaN, 1.026806054 * px(left), { rel: 1e-8, why: '1080 lines at 3.1 H' });
      expectWithin(left?.arcMinP95 ?? NaN, 1.026806054 * (left?.p95Px ?? NaN), {
        rel: 1e-8,
        why: '1080 lines at 3.1 H',
      });
    }
  });

  it('grow with the zoom that enlarges them', () => {
    const at = residualOf(all);
    const closer = residualOf({ ...all, pxScale: 2.5 });
    expectWithin(px(closer.total), 2.5 * px(at.total), {
      rel: 0.01,
      why: 'less of the border, where turns move more',
    });
  });

  it('are finite for the shortest clips, and leave their input as it was', () => {
    for (const durationS of [0, 0.04, 0.12, 0.4]) {
      const short = residualOf(
        residualInput(madeMotion({ path: { pan: (s) => s, lateral: (s) => s * s }, durationS })),
      );
      const { causes } = short;
      const figures = [short.total, causes.path, causes.tracking, causes.translation, causes.blur].flatMap(
        (left) => (left ? [left.rmsPx, left.p95Px ?? 0, left.arcMinRms, left.arcMinP95 ?? 0] : []),
      );
      expect(figures.length).toBeGreaterThan(12);
      expect(figures.every((figure) => Number.isFinite(figure))).toBe(true);
    }
    const before = structuredClone(motion.path);
    residualOf(all);
    expect(motion.path).toEqual(before);
  });
});
