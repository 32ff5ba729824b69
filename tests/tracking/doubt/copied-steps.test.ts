/** Whether motion comes in the steps of a coder, on made-up tracks, and when that is a doubt. */
import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { compressionDoubts, type CopiedSteps } from '../../../src/tracking/index.js';
import { copiedSteps } from '../../../src/tracking/doubt/copied-steps.js';
import type { TrackTable } from '../../../src/tracking/types.js';
import { expectWithin } from '../../support/expect-within.js';

const FRAMES = 50;
const TRACKS = 60;

/** Tracks over all frames whose steps are what `seen` makes of the true ones, in analysis px. */
function tableOf(
  trueStep: (frame: number, track: number) => number,
  seen: (step: number) => number,
  noisePx = 0.02,
): TrackTable {
  const random = gaussianRandom(seededRandom(4));
  const count = FRAMES * TRACKS;
  const obsFrame = Int32Array.from({ length: count }, (_, i) => i % FRAMES);
  const xPx = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const [frame, track] = [i % FRAMES, Math.floor(i / FRAMES)];
    xPx[i] = frame === 0 ? 100 : xPx[i - 1] + seen(trueStep(frame, track));
  }
  return {
    widthPx: 960,
    heightPx: 540,
    frameCount: FRAMES,
    timeS: Float64Array.from({ length: FRAMES }, (_, k) => k / 25),
    trackCount: TRACKS,
    trackStart: Int32Array.from({ length: TRACKS + 1 }, (_, i) => i * FRAMES),
    obsFrame,
    xPx: xPx.map((x) => x + noisePx * random()),
    yPx: new Float64Array(count).fill(50),
  };
}

/** A dolly past things at several distances, with shake. */
const travel = (frame: number, track: number): number =>
  -(0.8 + track / TRACKS) * (1 + 0.3 * Math.sin(1.7 * frame)) + 0.2 * Math.sin(2.3 * frame);
const inSteps = (perPx: number) => (step: number) => Math.round(step * perPx) / perPx;
const ONE = { x: 1, y: 1 };

describe('copiedSteps', () => {
  it.each([2, 4])('finds motion in steps of one in %i, damped by noise alone', (perPx) => {
    const copied = copiedSteps(tableOf(travel, inSteps(perPx)), ONE);
    expect(copied?.perPx).toBe(perPx);
    // Noise of two places in each step.
    const damped = Math.exp(-0.5 * (2 * Math.PI * perPx * 0.02 * Math.SQRT2) ** 2);
    expectWithin(copied?.likeness ?? NaN, damped, { abs: 0.02, why: '3000 steps' });
  });

  it('counts in the pixels of the file', () => {
    const table = tableOf(travel, inSteps(6));
    expect(copiedSteps(table, { x: 1.5, y: 1.5 })?.perPx).toBe(4);
    expectWithin(copiedSteps(table, ONE)?.likeness ?? NaN, 0, { abs: 0.1, why: '3000 steps off the grid' });
  });

  it('finds none in free motion', () => {
    const copied = copiedSteps(
      tableOf(travel, (step) => step),
      ONE,
    );
    expectWithin(copied?.likeness ?? NaN, 0, { abs: 0.05, why: '3000 steps over several whole ones' });
  });

  it('tells nothing of a camera that stands, or of motion that never changes', () => {
    expect(
      copiedSteps(
        tableOf(() => 0, inSteps(4)),
        ONE,
      ),
    ).toBeNull();
    expect(
      copiedSteps(
        tableOf(
          () => 0.75,
          (step) => step,
        ),
        ONE,
      ),
    ).toBeNull();
  });
});

describe('compressionDoubts', () => {
  const codes = (copied: CopiedSteps | null, noisePx: number, bitsPerPx: number | null): string[] => {
    const table = tableOf(travel, (step) => step);
    return compressionDoubts({ copied, noisePx, table }, bitsPerPx).map(({ code }) => code);
  };

  // Figures of the trials in compression-doubt.ts.
  it.each([
    ['H.264, crf 32', 0.298, 0.044, 0.016],
    ['H.264, crf 40, coded once more', 0.268, 0.071, 0.194],
    ['MPEG-4, q 8', 0.334, 0.041, 0.091],
    ['a push-in at crf 28', 0.238, 0.048, 0.024],
    ['a push-in at crf 40, whose noise hides the steps', 0.106, 0.099, 0.009],
  ])('doubts %s', (_, likeness, noisePx, bitsPerPx) => {
    expect(codes({ likeness, perPx: 4 }, noisePx, bitsPerPx)).toEqual(['heavy-compression']);
  });

  it.each([
    ['H.264, crf 16', 0.112, 0.022, 0.13],
    ['H.264, crf 23', 0.228, 0.029, 0.044],
    ['a rail of a sample clip', 0.194, 0.011, 0.11],
    ['coarse Motion JPEG', 0.006, 0.052, 0.255],
    ['wind in leaves, from a camera', 0.123, 0.1, 0.206],
    ['a clip of unknown size', 0.107, 0.084, null],
    ['few bits without steps', 0.01, 0.03, 0.01],
  ])('does not doubt %s', (_, likeness, noisePx, bitsPerPx) => {
    expect(codes({ likeness, perPx: 4 }, noisePx, bitsPerPx)).toEqual([]);
  });

  it('does not doubt few bits where hardly anything moves', () => {
    expect(codes(null, 0.01, 0.001)).toEqual([]);
  });
});
