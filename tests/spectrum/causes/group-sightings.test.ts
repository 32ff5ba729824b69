import { describe, expect, it } from 'vitest';
import type { Axis } from '../../../src/run/index.js';
import { groupSightings } from '../../../src/spectrum/causes/group-sightings.js';
import type { FoundPeak } from '../../../src/spectrum/peaks/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpPeak } from './made-up-peaks.js';

const seen = (axis: Axis, freqHz: number, given: Partial<FoundPeak> = {}) => ({
  axis,
  peak: madeUpPeak(freqHz, given),
});
/** Rounding of a closed form. */
const EXACT = { rel: 1e-12 };

describe('peaks of several axes', () => {
  it('are one source at the same frequency, its frequency the mean by inverse variance', () => {
    const [only, ...rest] = groupSightings(
      [seen('tilt', 4, { freqSdHz: 0.01 }), seen('vertical', 4.02, { freqSdHz: 0.02 })],
      10,
    );
    expect(rest).toEqual([]);
    expectWithin(only.freqHz, (4 * 4 + 4.02) / 5, EXACT);
    expectWithin(only.freqSdHz, 0.01 / Math.sqrt(1.25), EXACT);
  });

  it('are two sources beyond 2.5 joint standard deviations', () => {
    const sd = { freqSdHz: 0.01 };
    expect(groupSightings([seen('tilt', 4, sd), seen('roll', 4.034, sd)], 10)).toHaveLength(1);
    expect(groupSightings([seen('tilt', 4, sd), seen('roll', 4.037, sd)], 10)).toHaveLength(2);
  });

  it('are never one source further apart than the pass resolves, however uncertain', () => {
    const vague = { freqSdHz: 0.2 };
    expect(groupSightings([seen('tilt', 4, vague), seen('roll', 4.11, vague)], 10)).toHaveLength(2);
    expect(groupSightings([seen('tilt', 4, vague), seen('roll', 4.11, vague)], 5)).toHaveLength(1);
  });

  it('never put two peaks of one axis into a source', () => {
    const vague = { freqSdHz: 0.05 };
    const groups = groupSightings(
      [seen('tilt', 4, vague), seen('tilt', 4.05, vague), seen('roll', 4.04, vague)],
      10,
    );
    expect(groups.map(({ sightings }) => sightings.length)).toEqual([1, 2]);
    expect(groups[1].sightings.map(({ peak }) => peak.freqHz)).toEqual([4.05, 4.04]);
  });

  it('come out by rising frequency whatever their order', () => {
    const peaks = [seen('tilt', 7), seen('roll', 2), seen('pan', 7.005), seen('pan', 2.003)];
    const freqs = groupSightings(peaks, 10).map(({ freqHz }) => freqHz);
    expect(freqs).toHaveLength(2);
    expect(groupSightings([...peaks].reverse(), 10).map(({ freqHz }) => freqHz)).toEqual(freqs);
    expect(freqs[0]).toBeLessThan(freqs[1]);
  });

  it('decide the shape together where they disagree, and say so', () => {
    const groups = groupSightings(
      [seen('tilt', 7, { broadProbability: 0.95 }), seen('roll', 7.01, { broadProbability: 0.3 })],
      10,
    );
    // Odds 19 x 3/7 = 8.143
    expectWithin(groups[0].broadProbability, 8.142857 / 9.142857, { rel: 1e-6 });
    expect(groups[0].shapeNote).toBe(
      'At 7 Hz tilt shows a resonance and roll a line: the axes together say a resonance (89 %).',
    );
    expect(groupSightings([seen('tilt', 7), seen('roll', 7.01)], 10)[0].shapeNote).toBeNull();
  });

  it('multiply what they say of the way, and say nothing where none can', () => {
    const both = groupSightings(
      [seen('tilt', 3, { followsTravel: 0.8 }), seen('roll', 3, { followsTravel: 0.8 })],
      10,
    );
    expectWithin(both[0].followsTravel!, 16 / 17, EXACT);
    expect(groupSightings([seen('tilt', 3)], 10)[0].followsTravel).toBeNull();
  });
});
