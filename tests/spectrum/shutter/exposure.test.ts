/** Amplitudes put right for the exposure, and how far that may be trusted. */
import { describe, expect, it } from 'vitest';
import { exposureGain } from '../../../src/optics/index.js';
import {
  correctedUpToHz,
  correctionRange,
  hiddenHz,
  LEAST_CORRECTED_GAIN,
  motionAmplitude,
} from '../../../src/spectrum/shutter/exposure.js';
import { shutterNotes } from '../../../src/spectrum/shutter/shutter-notes.js';
import { expectWithin } from '../../support/expect-within.js';

const EXACT = { rel: 1e-9, why: 'closed form' };

/** Amplitude of the mean of a sine over an exposure, by 2000 moments of it. */
function seenAmplitude(amplitude: number, trueHz: number, exposureS: number): number {
  let sum = 0;
  for (let i = 0; i < 2000; i++)
    sum += Math.cos(2 * Math.PI * trueHz * ((i + 0.5) / 2000 - 0.5) * exposureS) / 2000;
  return Math.abs(amplitude * sum);
}

describe('the amplitude of the motion itself', () => {
  it('is what went into a blurred frame', () => {
    for (const [trueHz, exposureS] of [
      [3, 1 / 48],
      [31, 0.02],
      [35, 1 / 48],
    ]) {
      const seen = seenAmplitude(1.7, trueHz, exposureS);
      expectWithin(motionAmplitude(seen, trueHz, exposureS) ?? NaN, 1.7, {
        rel: 1e-5,
        why: 'mean of 2000 moments',
      });
    }
  });

  it('is not told where the shutter let too little through, at its zero and in every lobe beyond', () => {
    const exposureS = 1 / 48;
    const last = correctedUpToHz(exposureS) ?? NaN;
    expectWithin(exposureGain(last, exposureS), LEAST_CORRECTED_GAIN, { rel: 1e-5, why: 'six digits' });
    expect(motionAmplitude(1, 0.999 * last, exposureS)).not.toBeNull();
    for (let trueHz = 1.001 * last; trueHz < 500; trueHz += 0.5)
      expect(motionAmplitude(1, trueHz, exposureS)).toBeNull();
  });

  it('is as seen without an exposure, at any frequency', () => {
    expect(motionAmplitude(2, 1000, 0)).toBe(2);
    expect(hiddenHz(0)).toBeNull();
    expect(correctedUpToHz(0)).toBeNull();
  });
});

describe('what an exposure hides', () => {
  it('is first the frequency whose cycle it takes in whole', () => {
    const zeroHz = hiddenHz(1 / 48) ?? NaN;
    expectWithin(zeroHz, 48, EXACT);
    expect(exposureGain(zeroHz, 1 / 48)).toBeLessThan(1e-12);
  });
});

describe('an assumed shutter angle', () => {
  it('changes the amplitude by the ratio of what both angles let through', () => {
    const [least, most] = correctionRange(10, 24, 180);
    expectWithin(
      least ?? NaN,
      exposureGain(10, 180 / 360 / 24) / exposureGain(10, 90 / 360 / 24),
      EXACT,
      '90 degrees',
    );
    expectWithin(
      most ?? NaN,
      exposureGain(10, 180 / 360 / 24) / exposureGain(10, 1 / 24),
      EXACT,
      '360 degrees',
    );
  });

  it('leaves the amplitude open where the widest shutter would have blurred it away', () => {
    const [least, most] = correctionRange(20, 24, 180);
    expect(least).toBeLessThan(1);
    expect(most).toBeNull();
    expect(correctionRange(48, 24, 180)).toEqual([null, null]);
  });
});

describe('the sentences', () => {
  const view = { rateHz: 24, exposureS: 1 / 48, isAssumed: true, fastestHz: 10 };

  it('say what folds, what is blurred away, and what hangs on an angle that was assumed', () => {
    expect(shutterNotes(view)).toEqual([
      'At 24 frames/s shake above 12 Hz shows at a lower frequency: each source lists what else it could be.',
      'The exposure of 20.8 ms blurs shake of 48 Hz away completely; amplitudes are put right up to 36 Hz.',
      'The shutter angle was not given, 180 degrees is assumed: at 10 Hz the motion itself is 0.95 times what is stated with 90 degrees, 1.3 times with 360. Give the angle.',
    ]);
    expect(shutterNotes({ ...view, fastestHz: 20 })[2]).toMatch(
      /with 90 degrees, and cannot be told with 360/,
    );
  });

  it('leave out what was given, what does not matter and what does not happen', () => {
    expect(shutterNotes({ ...view, isAssumed: false })).toHaveLength(2);
    expect(shutterNotes({ ...view, fastestHz: 2 })).toHaveLength(2);
    expect(shutterNotes({ ...view, fastestHz: null })).toHaveLength(2);
    expect(shutterNotes({ ...view, exposureS: 0, isAssumed: false })).toHaveLength(1);
  });
});
