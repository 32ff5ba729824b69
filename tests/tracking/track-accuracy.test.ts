/** Tracks against a texture whose motion is exact at any fraction of a pixel. */
import { beforeAll, describe, expect, it } from 'vitest';
import { trackFrames, type Tracking } from '../../src/tracking/index.js';
import { AnalyticTexture, clipOf, type Placement } from './support/analytic-texture.js';
import { trackErrors } from './support/track-errors.js';

const SIZE = { widthPx: 480, heightPx: 270 };
const FRAMES = 30;
const SEED = 7;

/** A slow travel with shake on top: shifts never repeat a fraction of a pixel, the horizon tips by up to 0.2 degrees. */
function place(k: number): Placement {
  return {
    shiftXPx: 0.731 * k + 0.9 * Math.sin(1.7 * k),
    shiftYPx: 0.313 * k + 0.6 * Math.sin(2.3 * k + 1),
    turnRad: 0.0035 * Math.sin(0.9 * k),
  };
}

/** The same travel without the turn, which alone would give the tracks different phases. */
function straight(k: number): Placement {
  return { ...place(k), turnRad: 0 };
}

describe('tracks of an exact moving texture', () => {
  const texture = new AnalyticTexture({ seed: 11, ...SIZE, finestPx: 5 });
  const turned = Array.from({ length: FRAMES }, (_, k) => texture.picture(place(k)));
  let tracking: Tracking;

  beforeAll(async () => {
    tracking = await trackFrames(clipOf(turned, SIZE), { seed: SEED });
  });

  it('lie within 0.025 px of the truth, after the blur, the dither and up to 45 steps', () => {
    const errors = trackErrors(tracking.table, texture, place);
    // Measured 0.015 px RMS and 0.054 px at worst on this texture; camera footage is coded, and then 0.03 px is usual.
    expect(errors.rmsPx).toBeLessThan(0.025);
    expect(errors.worstPx).toBeLessThan(0.15);
  });

  it('fill the picture and the wanted number in every frame', () => {
    // Near the ends of the clip tracks are missing that would have been too short to count.
    expect(Math.min(...tracking.liveCount)).toBeGreaterThan(0.7 * 280);
    expect(tracking.coverage).toBeGreaterThan(0.85);
    expect(tracking.warnings).toEqual([]);
    expect(tracking.events).toEqual({ cuts: [], duplicates: [], frozen: [] });
  });

  it('start anywhere between the pixels and last from 6 to 45 frames', () => {
    const { table } = tracking;
    const fractions = Array.from({ length: table.trackCount }, (_, i) => table.xPx[table.trackStart[i]] % 1);
    for (let part = 0; part < 4; part++) {
      const share = fractions.filter((f) => Math.floor(4 * f) === part).length / fractions.length;
      expect(share).toBeGreaterThan(0.15);
    }
    const lengths = Array.from(
      { length: table.trackCount },
      (_, i) => table.trackStart[i + 1] - table.trackStart[i],
    );
    expect(Math.min(...lengths)).toBeGreaterThanOrEqual(6);
    expect(Math.max(...lengths)).toBeLessThanOrEqual(45);
  });

  it('share no error: without the dither of the starts the mean error of all tracks grows more than 2.5 times', async () => {
    const pictures = Array.from({ length: FRAMES }, (_, k) => texture.picture(straight(k)));
    const shared = async (ditherPx: number): Promise<number> => {
      const { table } = await trackFrames(clipOf(pictures, SIZE), { seed: SEED, ditherPx });
      return trackErrors(table, texture, straight).sharedPx;
    };
    const withDither = await shared(0.5);
    const without = await shared(0);
    expect(without).toBeGreaterThan(2.5 * withDither);
  });

  it('measure their own noise when the pictures carry some', async () => {
    const noisy = Array.from({ length: FRAMES }, (_, k) => texture.picture(place(k), 12, k + 1));
    const { table, noisePx } = await trackFrames(clipOf(noisy, SIZE), { seed: SEED });
    const { rmsPx } = trackErrors(table, texture, place);
    // Errors of a chain of matches last over frames, which third differences do not see: the figure is a part of the whole.
    expect(noisePx).toBeGreaterThan(0.4 * rmsPx);
    expect(noisePx).toBeLessThan(1.1 * rmsPx);
  });
});
