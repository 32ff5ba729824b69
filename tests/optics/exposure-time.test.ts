import { describe, expect, it } from 'vitest';
import {
  aliasedFrequencyHz,
  exposureGain,
  fieldOfViewDeg,
  focalPxFromMm,
  readoutSkewPx,
  rowTimeS,
  shutterTimeS,
} from '../../src/optics/index.js';
import { expectWithin } from '../support/expect-within.js';

describe('shutter and readout', () => {
  it('averages a sine over the exposure as numbers say', () => {
    const exposureS = 1 / 48;
    for (const freqHz of [0, 3, 11, 48, 70]) {
      let sum = 0;
      const steps = 20_000;
      for (let i = 0; i < steps; i++)
        sum += Math.cos(2 * Math.PI * freqHz * ((i + 0.5) / steps - 0.5) * exposureS);
      expectWithin(exposureGain(freqHz, exposureS), Math.abs(sum / steps), {
        abs: 1e-7,
        why: 'midpoint rule',
      });
    }
  });

  it('folds frequencies into the band as sampling does', () => {
    for (const freqHz of [3, 14, 36, 61.5]) {
      const seen = aliasedFrequencyHz(freqHz, 25);
      for (let frame = 0; frame < 8; frame++) {
        const at = frame / 25;
        expectWithin(Math.cos(2 * Math.PI * seen * at), Math.cos(2 * Math.PI * freqHz * at), {
          abs: 1e-9,
          why: 'rounding',
        });
      }
    }
  });

  it('never skews by more than the whole swing', () => {
    expect(readoutSkewPx(5, 100, 0.03)).toBe(10);
    expect(readoutSkewPx(5, 0, 0.03)).toBe(0);
  });

  it('reads the first row at once and one past the last at the end of the readout', () => {
    expect(rowTimeS(0, 1080, 0.015)).toBe(0);
    expect(rowTimeS(1080, 1080, 0.015)).toBe(0.015);
  });

  it('refuses figures that mean nothing, by name', () => {
    expect(() => shutterTimeS(400, 24)).toThrowError(/angleDeg/);
    expect(() => shutterTimeS(180, 0)).toThrowError(/fps/);
    expect(() => aliasedFrequencyHz(1, 0)).toThrowError(/fps/);
    expect(() => rowTimeS(1, 0, 0.01)).toThrowError(/rows/);
    expect(() => fieldOfViewDeg(36, 0)).toThrowError(/focalLengthMm/);
    expect(() => focalPxFromMm(50, NaN, 1920)).toThrowError(/sensorWidthMm/);
  });
});
