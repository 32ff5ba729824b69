import { describe, expect, it } from 'vitest';
import type { Observations } from '../../src/motion/observations.js';
import type { ParallaxPair } from '../../src/motion/parallax.js';
import { halves, planSegments, SEGMENT_LIMITS, type Segment } from '../../src/motion/segments/plan.js';

/** A clip of so many frames with so many live tracks in each: all that a plan looks at. */
function clipOf(frameCount: number, liveTracks: (t: number) => number): Observations {
  const frameStart = new Int32Array(frameCount + 1);
  for (let t = 0; t < frameCount; t++) frameStart[t + 1] = frameStart[t] + liveTracks(t);
  const none = new Int32Array(0);
  const empty = new Float64Array(0);
  return {
    frameCount,
    trackCount: 0,
    count: frameStart[frameCount],
    trackStart: none,
    frame: none,
    track: none,
    x: empty,
    y: empty,
    rowShare: empty,
    frameStart,
    byFrame: none,
  };
}

/** Pairs half a second apart that show parallax, in the stretches of the clip (s) given. */
function rollingIn(rateHz: number, stretches: readonly (readonly [number, number])[]): ParallaxPair[] {
  const rotation = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);
  return stretches.flatMap(([fromS, toS]) =>
    Array.from({ length: Math.floor(2 * (toS - fromS)) }, (_, k) => {
      const first = Math.round((fromS + k / 2) * rateHz);
      return { first, last: first + Math.round(rateHz), scale: 1, rotation };
    }),
  );
}

const RATE = 30;
const sizes = (obs: Observations, plan: readonly Segment[]): number[] =>
  plan.map(({ from, to }) => obs.frameStart[to] - obs.frameStart[from]);

describe('the plan of a long clip', () => {
  it('is one piece for a clip a little longer than a piece', () => {
    const obs = clipOf(440, () => 280);
    expect(obs.count).toBeGreaterThan(SEGMENT_LIMITS.observations);
    expect(planSegments(obs, RATE, [], SEGMENT_LIMITS)).toEqual([{ from: 0, to: 440 }]);
  });

  it('has pieces that do not grow with the clip, so that memory stays flat', () => {
    const largest = [60, 120, 600].map((durationS) => {
      const obs = clipOf(durationS * RATE, (t) => 240 + (t % 80));
      return Math.max(
        ...sizes(obs, planSegments(obs, RATE, rollingIn(RATE, [[0, durationS - 2]]), SEGMENT_LIMITS)),
      );
    });
    // A piece and its two overlaps of 75 frames.
    const most = SEGMENT_LIMITS.observations + 75 * 320;
    for (const count of largest) expect(count).toBeLessThan(most);
  });

  it('covers every frame and lets neighbours, and no others, share the overlap', () => {
    const obs = clipOf(1800, (t) => (t < 600 ? 280 : 120));
    const plan = planSegments(obs, RATE, [], SEGMENT_LIMITS);
    expect(plan[0].from).toBe(0);
    expect(plan[plan.length - 1].to).toBe(1800);
    for (let k = 1; k < plan.length; k++) {
      // One frame for rounding.
      expect(Math.abs(plan[k - 1].to - plan[k].from - SEGMENT_LIMITS.overlapS * RATE)).toBeLessThanOrEqual(1);
      if (k > 1) expect(plan[k].from).toBeGreaterThan(plan[k - 2].to);
    }
  });

  it('never cuts pieces too short to show depth, however many observations they hold', () => {
    const obs = clipOf(2400, () => 280);
    const plan = planSegments(obs, 240, [], SEGMENT_LIMITS);
    for (const { from, to } of plan)
      expect((to - from) / 240).toBeGreaterThanOrEqual(SEGMENT_LIMITS.shortestS);
  });

  it('takes a rest in the middle into a piece that rolls', () => {
    const obs = clipOf(1800, () => 280);
    const rolling = rollingIn(RATE, [
      [0, 20],
      [38, 58],
    ]);
    const plan = planSegments(obs, RATE, rolling, SEGMENT_LIMITS);
    for (const { from, to } of plan) {
      const inside = rolling.filter(({ first, last }) => first >= from && last < to);
      expect(inside.length).toBeGreaterThanOrEqual(3);
    }
    const most = (SEGMENT_LIMITS.longest + 1) * SEGMENT_LIMITS.observations;
    expect(Math.max(...sizes(obs, plan))).toBeLessThan(most);
  });

  it('leaves a rest on its own that would make a piece too large', () => {
    const obs = clipOf(4500, () => 280);
    const rolling = rollingIn(RATE, [
      [0, 20],
      [128, 148],
    ]);
    const plan = planSegments(obs, RATE, rolling, SEGMENT_LIMITS);
    const resting = plan.filter(({ from, to }) => from / RATE > 22 && to / RATE < 126);
    expect(resting.length).toBeGreaterThan(0);
    const most = (SEGMENT_LIMITS.longest + 1) * SEGMENT_LIMITS.observations;
    expect(Math.max(...sizes(obs, plan))).toBeLessThan(most);
  });
});

describe('halves of a piece', () => {
  it('share the overlap, and there are none of a short piece', () => {
    const [early, late] = halves({ from: 100, to: 400 }, RATE, SEGMENT_LIMITS);
    expect([early.from, late.to]).toEqual([100, 400]);
    expect(early.to - late.from).toBe(76);
    expect(halves({ from: 100, to: 330 }, RATE, SEGMENT_LIMITS)).toEqual([]);
  });
});
