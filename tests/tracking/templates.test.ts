/** Tracks refined against templates, on textures whose scale, turn and light change by known amounts. */
import { describe, expect, it } from 'vitest';
import { trackFrames, type Refine, type Tracking } from '../../src/tracking/index.js';
import { AnalyticTexture, clipOf, type Placement } from './support/analytic-texture.js';
import { layeredPicture, worstTrackErrors } from './support/layers.js';
import { trackErrors } from './support/track-errors.js';

const SIZE = { widthPx: 480, heightPx: 270 };
const FRAMES = 24;
const TRACKS = 160;
const texture = new AnalyticTexture({ seed: 11, ...SIZE, finestPx: 5, waves: 40 });

/** A push-in that grows by 1 % a frame, with a turn of the horizon and a slow change of the light. */
function pushIn(k: number): Placement {
  return {
    shiftXPx: 0.9 * Math.sin(1.7 * k),
    shiftYPx: 0.6 * Math.sin(2.3 * k + 1),
    turnRad: 0.01 * Math.sin(0.4 * k),
    scale: 1.01 ** k,
    gain: 1 - 0.008 * k,
    offsetGrey: 0.7 * k,
  };
}

/** A travel with shake and no change of scale. */
function travel(k: number): Placement {
  return {
    shiftXPx: 0.731 * k + 0.9 * Math.sin(1.7 * k),
    shiftYPx: 0.313 * k + 0.6 * Math.sin(2.3 * k + 1),
    turnRad: 0.0035 * Math.sin(0.9 * k),
  };
}

function film(place: (k: number) => Placement, frames = FRAMES): Uint8Array[] {
  return Array.from({ length: frames }, (_, k) => texture.picture(place(k)));
}

function track(pictures: readonly Uint8Array[], refine: Refine, more = {}): Promise<Tracking> {
  return trackFrames(clipOf(pictures, SIZE), {
    seed: 7,
    threads: 1,
    targetTracks: TRACKS,
    refine,
    ...more,
  });
}

describe('tracks refined against templates', () => {
  const growing = film(pushIn);

  it('stay within 0.02 px where the picture grows, turns and changes its light, and Lucas-Kanade drifts', async () => {
    const refined = await track(growing, 'always');
    const plain = await track(growing, 'never');
    expect(refined.refinedShare).toBe(1);
    expect(plain.refinedShare).toBe(0);
    expect(trackErrors(refined.table, texture, pushIn).rmsPx).toBeLessThan(0.02);
    expect(trackErrors(plain.table, texture, pushIn).rmsPx).toBeGreaterThan(0.06);
    expect(Math.min(...refined.liveCount)).toBeGreaterThan(0.6 * TRACKS);
  });

  it('share no error: without the dither of the starts the mean error of all tracks grows more than 2.5 times', async () => {
    const straight = (k: number): Placement => ({ ...travel(k), turnRad: 0 });
    const pictures = film(straight);
    const shared = async (ditherPx: number): Promise<number> => {
      const { table } = await track(pictures, 'always', { ditherPx });
      return trackErrors(table, texture, straight).sharedPx;
    };
    const withDither = await shared(0.5);
    expect(await shared(0)).toBeGreaterThan(2.5 * withDither);
  });

  it('end at the edge of a nearer thing, where Lucas-Kanade holds on to what belongs to neither', async () => {
    const near = new AnalyticTexture({ seed: 12, ...SIZE, finestPx: 5, waves: 40, meanGrey: 110 });
    const behind = (k: number): Placement => ({ shiftXPx: 0.3 * k, shiftYPx: 0, turnRad: 0 });
    const before = (k: number): Placement => ({ shiftXPx: 2.1 * k, shiftYPx: 0.2 * k, turnRad: 0 });
    const layers = { far: { texture, place: behind }, near: { texture: near, place: before }, edgeXPx: 180 };
    const pictures = Array.from({ length: FRAMES }, (_, k) => layeredPicture(layers, k));
    const refined = worstTrackErrors((await track(pictures, 'always')).table, layers);
    const plain = worstTrackErrors((await track(pictures, 'never')).table, layers);
    const strays = (errors: readonly number[]): number => errors.filter((error) => error > 0.5).length;
    // Measured 14 with Lucas-Kanade and 5 with templates.
    expect(strays(plain)).toBeGreaterThan(10);
    expect(strays(refined)).toBeLessThan(0.5 * strays(plain));
  });

  it('are the same bit for bit on one and on two threads, and on repeat', async () => {
    const pictures = growing.slice(0, 12);
    const once = await track(pictures, 'always');
    for (const threads of [1, 2]) expect(await track(pictures, 'always', { threads })).toEqual(once);
  });
});

describe('the choice by the move itself', () => {
  it('takes templates for a growing picture, soon after the start, and for a shrinking one', async () => {
    for (const growth of [1.002, 1 / 1.002]) {
      const place = (k: number): Placement => ({ ...pushIn(k), scale: growth ** k });
      const pictures = film(place);
      const chosen = await track(pictures, 'auto');
      const plain = await track(pictures, 'never');
      expect(chosen.refinedShare).toBeGreaterThan(0.75);
      expect(chosen.refinedShare).toBeLessThan(1);
      // Tracks keep what they drifted before the decision, and no more: measured 0.05 px against 0.16 px.
      const error = trackErrors(chosen.table, texture, place).rmsPx;
      expect(error).toBeLessThan(0.4 * trackErrors(plain.table, texture, place).rmsPx);
    }
  });

  it('leaves a travel and a camera that only shakes along the lens to Lucas-Kanade', async () => {
    const breathing = (k: number): Placement => ({ ...travel(k), scale: 1 + 0.0008 * Math.sin(1.1 * k) });
    for (const place of [travel, breathing]) {
      const pictures = film(place);
      const chosen = await track(pictures, 'auto');
      expect(chosen.refinedShare).toBe(0);
      expect(chosen).toEqual(await track(pictures, 'never'));
    }
  });

  it('is refused when it is none of the three', async () => {
    await expect(track([], 'sometimes' as Refine)).rejects.toThrow(
      /refine: expected auto, always or never, got sometimes/,
    );
  });
});
