import { describe, expect, it } from 'vitest';
import type { RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { framesTogether, stretchDeck, stretchesOf } from '../../../src/surface/profile/stretches.js';
import { expectWithin } from '../../support/expect-within.js';

interface Roll {
  readonly speedMps: number;
  readonly durationS: number;
  readonly rateHz?: number;
  readonly wheelbaseM?: number;
  readonly cutoffHz?: number;
  /** Speed changes by this share, a sine of 8 s. */
  readonly wobble?: number;
}

function deckOf({ speedMps, durationS, rateHz = 25, wheelbaseM = 0.45, cutoffHz = 0.8, wobble = 0 }: Roll) {
  const timeS = Float64Array.from({ length: Math.round(durationS * rateHz) }, (_, i) => i / rateHz);
  const series = { values: timeS.slice(), noiseSd: 1e-3, leastNoiseSd: 1e-3 };
  const deck: RolledDeck = {
    rateHz,
    cutoffHz,
    exposureS: 0.5 / rateHz,
    wheelbaseM,
    frontAheadM: wheelbaseM,
    trackWidthM: null,
    timeS,
    rearM: timeS.map((t) => speedMps * (t + wobble * (4 / Math.PI) * (1 - Math.cos((Math.PI * t) / 4)))),
    pitchRad: series,
    heaveM: null,
    rollRad: null,
  };
  return deck;
}

const ROLLS: readonly Roll[] = [
  { speedMps: 0.2, durationS: 20 },
  { speedMps: 0.5, durationS: 60 },
  { speedMps: 0.5, durationS: 60, wobble: 0.5 },
  { speedMps: 0.1, durationS: 60 },
  { speedMps: 0.02, durationS: 120, wheelbaseM: 1.2 },
  { speedMps: 0.5, durationS: 20, rateHz: 240, cutoffHz: 0.3 },
  { speedMps: 1.5, durationS: 40 },
];

describe('stretches of a pass', () => {
  it.each(ROLLS)('cover all frames, and tile all that an axle stood on: %o', (roll) => {
    const deck = deckOf(roll);
    const stretches = stretchesOf(deck);
    const last = deck.rearM.length - 1;
    expect(stretches[0].fromFrame).toBe(0);
    expect(stretches[0].answersM[0]).toBe(deck.rearM[0]);
    expect(stretches[stretches.length - 1].toFrame).toBe(last + 1);
    expect(stretches[stretches.length - 1].answersM[1]).toBe(deck.rearM[last] + deck.frontAheadM);
    stretches.forEach(({ fromFrame, toFrame, answersM: [from, to] }, i) => {
      expect(to).toBeGreaterThan(from);
      // What it answers for, it has seen.
      expect(deck.rearM[fromFrame]).toBeLessThanOrEqual(from);
      expect(deck.rearM[toFrame - 1] + deck.frontAheadM).toBeGreaterThanOrEqual(to);
      if (i > 0) expect(stretches[i - 1].answersM[1]).toBe(from);
    });
  });

  it('is one for a pass of 20 s at 25 frames a second', () => {
    expect(stretchesOf(deckOf({ speedMps: 0.2, durationS: 20 }))).toHaveLength(1);
  });

  it.each(ROLLS.slice(0, 4))('hand over where both neighbours saw both axles: %o', (roll) => {
    const deck = deckOf(roll);
    const stretches = stretchesOf(deck);
    stretches.slice(1).forEach(({ fromFrame, answersM: [border] }, i) => {
      expect(deck.rearM[fromFrame] + deck.frontAheadM).toBeLessThan(border);
      expect(deck.rearM[stretches[i].toFrame - 1]).toBeGreaterThan(border);
    });
  });

  it('grow with the time between the axles, up to what can be solved', () => {
    const sizes = [0.5, 0.1, 0.05, 0.01].map((speedMps) => {
      const deck = deckOf({ speedMps, durationS: 400 });
      const [{ fromFrame, toFrame }] = stretchesOf(deck);
      return { frames: toFrame - fromFrame, groups: (toFrame - fromFrame) / framesTogether(deck) };
    });
    const wheelbaseFrames = [0.5, 0.1, 0.05].map((speedMps) => (25 * 0.45) / speedMps);
    wheelbaseFrames.forEach((frames, i) => expect(sizes[i].frames).toBeGreaterThan(2 * frames));
    sizes.forEach(({ groups }) => {
      expect(groups).toBeGreaterThan(250);
      expect(groups).toBeLessThan(700);
    });
  });

  it('average frames only where they lie much denser than the drift and the wheelbase ask for', () => {
    expect(framesTogether(deckOf({ speedMps: 0.1, durationS: 20 }))).toBe(1);
    expect(framesTogether(deckOf({ speedMps: 0.2, durationS: 20, rateHz: 50, cutoffHz: 0.3 }))).toBe(1);
    const short = deckOf({ speedMps: 0.5, durationS: 2, rateHz: 240, cutoffHz: 0.3 });
    expect([framesTogether(short), stretchesOf(short).length]).toEqual([1, 1]);
    const dense = deckOf({ speedMps: 0.5, durationS: 20, rateHz: 240, cutoffHz: 0.3 });
    const together = framesTogether(dense);
    expect(together).toBeGreaterThan(1);
    const part = stretchDeck(dense, { fromFrame: 100, toFrame: 101 + 50 * together, answersM: [0, 1] });
    expect(part.rearM).toHaveLength(50);
    expectWithin(part.rateHz, 240 / together, { rel: 1e-12, why: 'groups follow each other' });
    const middleS = (100 + (together - 1) / 2) / 240;
    expectWithin(part.timeS[0], middleS, { abs: 1e-12, why: 'mean of the group' });
    expectWithin(part.pitchRad!.values[0], middleS, { abs: 1e-12, why: 'this pitch is the time' });
    expectWithin(part.pitchRad!.noiseSd, 1e-3 / Math.sqrt(together), {
      rel: 1e-12,
      why: 'mean of the group',
    });
  });
});
