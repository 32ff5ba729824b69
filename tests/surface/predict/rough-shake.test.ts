import { describe, expect, it } from 'vitest';
import { CLASS_SHAPE, expectedSpectra } from '../../../src/surface/roughness/expected-spectrum.js';
import { floorShape, shapedPsd } from '../../../src/surface/predict/floor-shape.js';
import { binEdge, binMiddle, roughShake } from '../../../src/surface/predict/rough-shake.js';
import { displacementPsd } from '../../../src/surface/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { PLAIN_FLOOR, PRESENT } from './predict-support.js';

const SHAPE = floorShape(PLAIN_FLOOR);
const EXACT = { rel: 1e-12, why: 'rounding' };

describe('the power that a rough floor gives a deck', () => {
  it('is that of the spectrum which the fit of a pass expects, summed over its bins', () => {
    const frameCount = 600;
    const spectra = expectedSpectra({
      rateHz: PRESENT.rateHz,
      frameCount,
      speedsMps: Float64Array.of(PRESENT.speedMps),
      dolly: PRESENT,
      exposureS: PRESENT.exposureS,
      cutoffHz: PRESENT.cutoffHz,
    });
    for (const channel of ['pitch', 'heave', 'roll'] as const) {
      const [psd] = spectra.floors(channel, CLASS_SHAPE, [110], 1);
      const sum = psd.reduce((total, value) => total + value, 0) * (PRESENT.rateHz / frameCount);
      const { power } = roughShake(SHAPE, PRESENT, 110).get(channel)!;
      expectWithin(
        power,
        sum,
        { rel: 0.01, why: 'bins of 0.04 Hz against the notches of the wheelbase' },
        channel,
      );
    }
  });

  it('is the sum over its waves', () => {
    const { power, byWave } = roughShake(SHAPE, PRESENT, 110).get('pitch')!;
    expectWithin(
      byWave.reduce((sum, value) => sum + value, 0),
      power,
      EXACT,
    );
    expect(roughShake(SHAPE, { ...PRESENT, trackWidthM: null }, 110).has('roll')).toBe(false);
  });

  it('puts no pitch where both axles rise together', () => {
    const { byWave } = roughShake(SHAPE, PRESENT, 110).get('pitch')!;
    const at = (n: number): number => byWave[byWave.findIndex((_, bin) => binEdge(bin + 1) > n)];
    const together = 1 / PRESENT.wheelbaseM;
    expect(at(1.5 * together)).toBeGreaterThan(0);
    expect(at(together)).toBeLessThan(0.05 * at(1.5 * together));
  });

  it('moves to longer waves at the same frequencies when the dolly goes faster', () => {
    const centre = (speedMps: number): number => {
      const { power, byWave } = roughShake(SHAPE, { ...PRESENT, speedMps }, 110).get('heave')!;
      return Math.exp(byWave.reduce((sum, p, bin) => sum + p * Math.log(binMiddle(bin)), 0) / power);
    };
    const why = 'notches stay at their waves while the band moves over them';
    expectWithin(centre(0.25) / centre(0.5), 2, { rel: 0.15, why });
  });

  it('refuses a dolly that stands', () => {
    expect(() => roughShake(SHAPE, { ...PRESENT, speedMps: 0 }, 110)).toThrow(RangeError);
  });
});

describe('the spectrum of a floor beyond its pass', () => {
  const steep = floorShape({ wavelengthsM: [0.02, 0.3], waviness: { value: 2.5, sd: 0.05 } });

  it('is that of the classes where no exponent was fitted', () => {
    const plain = floorShape({ wavelengthsM: [0.02, 0.3], waviness: null });
    for (const n of [0.5, 5, 200]) expectWithin(shapedPsd(1e-6, plain, n), displacementPsd(1e-6, n), EXACT);
  });

  it('falls with the fitted exponent in the band and as the classes do outside', () => {
    const slope = (n: number): number =>
      Math.log(shapedPsd(1e-6, steep, n) / shapedPsd(1e-6, steep, 1.1 * n)) / Math.log(1.1);
    const drawn = { abs: 0.02, why: 'drawn towards 2 by (0.05 / 0.3)^2' };
    expectWithin(slope(10), 2.5, drawn);
    expectWithin(slope(1), 2, EXACT);
    expectWithin(slope(100), 2, EXACT);
  });

  it('trusts a fitted exponent as far as it is known', () => {
    const vague = floorShape({ wavelengthsM: [0.02, 0.3], waviness: { value: 3, sd: 3 } });
    expectWithin(vague.exponent, 2, { abs: 0.02, why: 'one part in a hundred of 1' });
    expect(vague.exponentSd).toBeGreaterThan(steep.exponentSd);
  });
});
