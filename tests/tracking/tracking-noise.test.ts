import { describe, expect, it } from 'vitest';
import { trackingNoisePx } from '../../src/tracking/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpTracks, type Motion } from './support/made-up-tracks.js';

const SIGMA_PX = 0.03;
const TOLERANCE = { rel: 0.15, why: 'stated accuracy of the noise figure' };

/** Shake up to Nyquist: 9 Hz at 25 frames a second, far stronger than the noise. */
const shake: Motion = (k) => [2 * Math.sin(2.26 * k), 1.5 * Math.sin(2.4 * k + 1)];

/** Roll and breathing of the scale about the picture centre. */
const roll: Motion = (k, x, y) => {
  const angle = 0.004 * Math.sin(2.1 * k);
  const scale = 0.003 * Math.sin(2.7 * k);
  return [-angle * (y - 270) + scale * (x - 480), angle * (x - 480) + scale * (y - 270)];
};

/** Sideways shake seen before a near left half and a far right half: no affine motion of the picture. */
const parallax: Motion = (k, x) => [(x < 480 ? 3 : 1) * Math.sin(2.2 * k), 0];

describe('trackingNoisePx', () => {
  it.each([0.01, 0.03, 0.1, 0.5])(
    'finds white noise of %f px on tracks at rest within 15 percent',
    (sigma) => {
      expectWithin(trackingNoisePx(madeUpTracks({ noisePx: sigma })) ?? NaN, sigma, TOLERANCE);
    },
  );

  it.each([
    ['the whole picture', shake],
    ['roll and scale', roll],
    ['two depths', parallax],
  ])('is not misled by shake near Nyquist that is shared: %s', (_, motion) => {
    const noisePx = trackingNoisePx(madeUpTracks({ noisePx: SIGMA_PX, motion }));
    expectWithin(noisePx ?? NaN, SIGMA_PX, TOLERANCE);
  });

  it('is not misled by one track in ten that goes its own way', () => {
    const motion: Motion = (k, _x, _y, track) =>
      track % 10 === 0 ? [4 * Math.sin(2 * k + track), 0] : [0, 0];
    const noisePx = trackingNoisePx(madeUpTracks({ noisePx: SIGMA_PX, motion }));
    expectWithin(noisePx ?? NaN, SIGMA_PX, TOLERANCE);
  });

  it('scales with the picture', () => {
    const small = madeUpTracks({ noisePx: SIGMA_PX, motion: shake });
    const large = {
      ...small,
      widthPx: 1920,
      heightPx: 1080,
      xPx: small.xPx.map((x) => 2 * x),
      yPx: small.yPx.map((y) => 2 * y),
    };
    const ratio = (trackingNoisePx(large) ?? NaN) / (trackingNoisePx(small) ?? NaN);
    expectWithin(ratio, 2, { rel: 1e-6, why: 'rounding' });
  });

  it('spans no hole in time', () => {
    // Half a second is missing after frame 19, and the tracks have moved on meanwhile, each by another amount.
    const motion: Motion = (k, x) => [k >= 20 ? x / 10 : 0, 0];
    const timeS = (k: number): number => k / 25 + (k >= 20 ? 0.5 : 0);
    const withHole = madeUpTracks({ noisePx: SIGMA_PX, motion, timeS, frames: 26 });
    expectWithin(trackingNoisePx(withHole) ?? NaN, SIGMA_PX, TOLERANCE);
  });

  it('says nothing about tracks that are too few or too short', () => {
    expect(trackingNoisePx(madeUpTracks({ noisePx: 0.1, tracks: 12 }))).toBeNull();
    expect(trackingNoisePx(madeUpTracks({ noisePx: 0.1, frames: 3 }))).toBeNull();
    expect(trackingNoisePx(madeUpTracks({ noisePx: 0.1, tracks: 0 }))).toBeNull();
  });

  it('stays defined when all tracks lie on one line', () => {
    const line = madeUpTracks({ noisePx: SIGMA_PX });
    const flat = { ...line, yPx: line.yPx.map(() => 100) };
    expect(trackingNoisePx(flat)).not.toBeNaN();
  });
});
