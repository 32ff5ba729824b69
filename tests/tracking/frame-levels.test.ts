/** Brightness of the frames in bands, from the tracker, and whether motion alone can pass for a lamp in it. */
import { describe, expect, it } from 'vitest';
import { findFlicker } from '../../src/spectrum/shutter/find-flicker.js';
import { FrameComparer, LEVEL_BANDS } from '../../src/tracking/frame-differences.js';
import { trackFrames, type FrameLevels } from '../../src/tracking/index.js';
import { expectWithin } from '../support/expect-within.js';
import { AnalyticTexture, clipOf, type Placement } from './support/analytic-texture.js';

const SIZE = { widthPx: 160, heightPx: 90 };
const hall = new AnalyticTexture({ seed: 8, ...SIZE, waves: 25, coarsestPx: 60 });

/** Each row of a picture times its own light. */
function lit(grey: Uint8Array, light: (rowShare: number) => number): Uint8Array {
  const { widthPx, heightPx } = SIZE;
  return grey.map((level, i) =>
    Math.max(0, Math.min(255, Math.round(level * light(Math.floor(i / widthPx) / heightPx)))),
  );
}

function levelsOf(pictures: readonly Uint8Array[], fps: number): FrameLevels {
  const comparer = new FrameComparer(SIZE.widthPx, SIZE.heightPx);
  return {
    timeS: Float64Array.from(pictures, (_, k) => k / fps),
    bands: LEVEL_BANDS,
    mean: Float64Array.from(pictures.flatMap((grey) => [...comparer.look(grey).bandGrey])),
  };
}

describe('the levels of a frame', () => {
  it('are the mean of the rows of each band', () => {
    const { widthPx, heightPx } = { widthPx: 320, heightPx: 180 };
    const grey = Uint8Array.from({ length: widthPx * heightPx }, (_, i) =>
      Math.round(20 + Math.floor(i / widthPx) + 10 * Math.sin(i % widthPx)),
    );
    const { bandGrey } = new FrameComparer(widthPx, heightPx).look(grey);
    const rows = heightPx / LEVEL_BANDS;
    expect(bandGrey).toHaveLength(LEVEL_BANDS);
    bandGrey.forEach((level, band) => {
      const whole = grey.subarray(band * rows * widthPx, (band + 1) * rows * widthPx);
      const mean = whole.reduce((sum, one) => sum + one, 0) / whole.length;
      expectWithin(level, mean, { abs: 2, why: 'every fourth row of a slope of one level a row' });
    });
  });

  it('come with the table, frame for frame, without repeats', async () => {
    const travel = (k: number): Placement => ({
      shiftXPx: 1.2 * k + 0.3 * Math.sin(k),
      shiftYPx: 0.4 * Math.sin(1.3 * k),
      turnRad: 0,
    });
    // Frame 9 is shown twice, and the light goes up with each frame.
    const shown = Array.from({ length: 24 }, (_, k) => (k <= 9 ? k : k - 1));
    const pictures = shown.map((k) => lit(hall.picture(travel(k), 1, k + 1), () => 0.7 + 0.01 * k));
    const { table, levels, events } = await trackFrames(clipOf(pictures, { ...SIZE, fps: 25 }), {
      threads: 1,
      targetTracks: 60,
    });
    expect(events.duplicates).toEqual([10]);
    expect(levels.timeS).toEqual(table.timeS);
    expect(levels.mean).toHaveLength(table.frameCount * levels.bands);
    const mean = (frame: number): number =>
      levels.mean.subarray(frame * levels.bands, (frame + 1) * levels.bands).reduce((a, b) => a + b, 0) /
      levels.bands;
    expectWithin(mean(22) / mean(0), 0.92 / 0.7, { rel: 0.05, why: 'what comes into the picture' });
  });

  it('are none for a clip without frames', async () => {
    const { levels } = await trackFrames(clipOf([], SIZE), { threads: 1 });
    expect([levels.timeS.length, levels.mean.length]).toEqual([0, 0]);
  });
});

describe('a picture that travels and shakes at the frequency at which frames show a lamp', () => {
  const FPS = 24;
  const shaken = Array.from({ length: 144 }, (_, k) =>
    hall.picture(
      {
        shiftXPx: 0.8 * k,
        shiftYPx: 0.3 * Math.sin((2 * Math.PI * 4 * k) / FPS),
        turnRad: 0,
      },
      1,
      k + 1,
    ),
  );
  const options = { exposureS: null, mainsHz: null, readoutS: null };

  it('has no lamp', () => {
    const shakes = [{ freqHz: 4, shiftShare: 0.3 / SIZE.heightPx }];
    expect(findFlicker(levelsOf(shaken, FPS), { ...options, shakes })).toBeNull();
  });

  it('has one when its light flickers in bands, with the depth of that light', () => {
    const flickering = shaken.map((grey, k) =>
      lit(grey, (rowShare) => 1 + 0.06 * Math.cos(2 * Math.PI * 100 * (k / FPS + 0.02 * rowShare))),
    );
    const flicker = findFlicker(levelsOf(flickering, FPS), options);
    expect([flicker?.lampHz, flicker?.inBands]).toEqual([100, true]);
    expectWithin(flicker?.depthPercent ?? NaN, 6, { rel: 0.15, why: 'content that moves through the bands' });
  });
});
