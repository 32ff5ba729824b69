import { describe, expect, it } from 'vitest';
import { dominantFrequencyHz } from '../../src/spectrum/index.js';
import { expectWithin } from '../support/expect-within.js';

describe('dominantFrequencyHz', () => {
  const freqHz = Float64Array.from([0, 1, 2, 3, 4, 5, 6]);

  it('lies between the bins, where a parabola through the logarithm has its top', () => {
    const gauss = freqHz.map((f) => Math.exp(-((f - 3.2) ** 2)));
    expectWithin(dominantFrequencyHz({ freqHz, psd: gauss, noiseFloorPsd: 0 }, [0.8, 6], 8) ?? NaN, 3.2, {
      abs: 1e-9,
      why: 'the logarithm of a Gaussian is a parabola',
    });
  });

  it('is nothing when noise alone could reach as high', () => {
    const flat = Float64Array.from([1, 1, 1.4, 1, 0.8, 1, 1]);
    expect(dominantFrequencyHz({ freqHz, psd: flat, noiseFloorPsd: 1 }, [0.8, 6], 8)).toBeNull();
    expect(dominantFrequencyHz({ freqHz, psd: flat, noiseFloorPsd: 0.1 }, [0.8, 6], 8)).not.toBeNull();
  });

  it('keeps to the band', () => {
    const low = Float64Array.from([9, 9, 1, 2, 1, 1, 1]);
    expectWithin(dominantFrequencyHz({ freqHz, psd: low, noiseFloorPsd: 0 }, [1.5, 6], 8) ?? NaN, 3, {
      abs: 0.5,
    });
  });
});
