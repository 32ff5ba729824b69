/** Shake that a floor gives a rigid dolly, against closed forms and quadratures (worked.json, own derivation; case in each title). */
import { describe, expect, it } from 'vitest';
import { frameDifferenceGain } from '../../src/optics/index.js';
import { deckPowerGain } from '../../src/surface/index.js';
import { eventShake } from '../../src/surface/predict/event-shake.js';
import { floorShape } from '../../src/surface/predict/floor-shape.js';
import { pictureWeights } from '../../src/surface/predict/picture-weights.js';
import { predictShake } from '../../src/surface/predict/predict-shake.js';
import { binEdge, binMiddle, roughShake } from '../../src/surface/predict/rough-shake.js';
import type { PredictedFloor, SetupForPrediction } from '../../src/surface/predict/types.js';
import { expectWithin } from '../support/expect-within.js';
import { workedCase } from '../support/worked-case.js';

/** A point wheel, filmed without blur, so fast that nothing folds back, and a high-pass far below every wave that counts. */
function bare(wheelbaseM: number, more: Partial<SetupForPrediction> = {}): SetupForPrediction {
  return {
    speedMps: 1,
    rateHz: 200,
    exposureS: 0,
    cutoffHz: 0.002,
    wheelbaseM,
    trackWidthM: null,
    wheel: { diameterFactor: 1, contactCyclesPerM: 1e9, contactFactor95: 1 },
    azimuthRad: 0,
    view: { focalPx: 1600, widthPx: 1920, heightPx: 1080 },
    ...more,
  };
}

const CLASSES = floorShape({ wavelengthsM: [0.02, 5], waviness: null });
const POINT = 1e9;

/** Sum of powers over a band of waves, bins at its ends cut. */
function inBand(
  byWave: Float64Array,
  from: number,
  to: number,
  gain: (n: number) => number = () => 1,
): number {
  return byWave.reduce((sum, power, bin) => {
    const [low, high] = [binEdge(bin), binEdge(bin + 1)];
    const share = Math.max(0, Math.min(high, to) - Math.max(low, from)) / (high - low);
    return sum + share * power * gain(binMiddle(bin));
  }, 0);
}

describe('the shake of a rigid dolly against closed forms', () => {
  // Own derivation: var = pi^2 n0^2 2 Gd(n0) / L over all waves; the band by quadrature.
  it('gives the pitch of a w = 2 floor over all waves and in a band (bridge-pitch-rms)', () => {
    const { expected } =
      workedCase<
        { Gd_n0: number; L_m: number; pitch_rms_mrad_all_n: number; px_rms_f1600_0p2_to_20: number }[]
      >('bridge-pitch-rms');
    for (const row of expected) {
      const setup = bare(row.L_m);
      const { power, byWave } = roughShake(CLASSES, setup, POINT).get('pitch')!;
      expectWithin(1e3 * Math.sqrt(row.Gd_n0 * power), row.pitch_rms_mrad_all_n, {
        rel: 0.005,
        why: 'waves longer than 100 m and shorter than 1.4 mm hardly count',
      });
      const weight = pictureWeights(setup.view!, 0, 'centre').pitch;
      const px = Math.sqrt(row.Gd_n0 * weight * inBand(byWave, 0.2, 20));
      expectWithin(px, row.px_rms_f1600_0p2_to_20, {
        rel: 0.005,
        why: 'bins at the ends of the band are cut',
      });
    }
  });

  // Own derivation, by quadrature.
  it('gives the shift between frames, with and without exposure (bridge-interframe-rms)', () => {
    const { expected } = workedCase<
      {
        Gd_n0: number;
        L_m: number;
        v_mps: number;
        fps: number;
        exposure_s: number;
        px_rms_interframe_f1600: number;
        with_exposure_average: number;
      }[]
    >('bridge-interframe-rms');
    for (const row of expected) {
      const pxOf = (exposureS: number): number => {
        const setup = bare(row.L_m, { speedMps: row.v_mps, exposureS });
        const { byWave } = roughShake(CLASSES, setup, POINT).get('pitch')!;
        const between = (n: number): number => frameDifferenceGain(n * row.v_mps, row.fps) ** 2;
        return 1600 * Math.sqrt(row.Gd_n0 * inBand(byWave, 0.2, 20, between));
      };
      const binned = {
        rel: 0.01,
        why: 'the gain between frames is taken at the middle of each twelfth of an octave',
      };
      expectWithin(pxOf(0), row.px_rms_interframe_f1600, binned);
      expectWithin(pxOf(row.exposure_s), row.with_exposure_average, binned);
    }
  });

  // Own derivation: px = focal length in px times the pitch, small angles.
  it('turns a wave into px (pitch-to-pixels, wheelbase-filter)', () => {
    const { inputs, expected } = workedCase<
      { pitch_amp_mrad: number; px_amp: number },
      { L_m: number; A_mm: number; wavelength_m: number; f_px: number }
    >('pitch-to-pixels');
    const setup = bare(inputs.L_m, { view: { focalPx: inputs.f_px, widthPx: 1920, heightPx: 1080 } });
    const pitchRad = (inputs.A_mm / 1e3) * Math.sqrt(deckPowerGain('pitch', 1 / inputs.wavelength_m, setup));
    const px = pitchRad * Math.sqrt(pictureWeights(setup.view!, 0, 'centre').pitch);
    expectWithin(1e3 * pitchRad, expected.pitch_amp_mrad, { rel: 1e-8, why: 'computed' });
    expectWithin(px, expected.px_amp, { rel: 1e-8, why: 'computed' });
  });

  it('has neither pitch nor heave at the waves of the wheelbase (wheelbase-filter)', () => {
    const { inputs, expected } = workedCase<
      { wavelength_m: number; heave: number; pitch_rad_per_m: number }[],
      { L_m: number }
    >('wheelbase-filter');
    const shakes = roughShake(CLASSES, bare(inputs.L_m), POINT);
    const at = (channel: 'pitch' | 'heave', n: number): number => {
      const { byWave } = shakes.get(channel)!;
      return byWave[byWave.findIndex((_, bin) => binEdge(bin + 1) > n)];
    };
    for (const row of expected) {
      const n = 1 / row.wavelength_m;
      // Below 2 cycles/m a bin is narrow against the gain's own wave.
      if (n > 2) continue;
      const ratio = at('pitch', n) / at('heave', n);
      if (row.heave === 0) expect(ratio).toBeGreaterThan(500);
      if (row.pitch_rad_per_m === 0) expect(ratio).toBeLessThan(0.5);
    }
  });

  // Own derivation: the deck is tilted by h / L while one axle is up, over one wheelbase of travel.
  it('tilts the deck over a step for one wheelbase (step-response-rigid)', () => {
    const { inputs, expected } = workedCase<
      { pitch_jump_mrad: number; pitch_duration_m: number; px_at_f1600: number },
      { L_m: number; step_mm: number }
    >('step-response-rigid');
    const floor: PredictedFloor = {
      meanTrackM3: 1e-12,
      differenceM3: null,
      sdLn: 0,
      contactCyclesPerM: 120,
      wavelengthsM: [0.02, 100],
      waviness: null,
      runLengthM: 1000,
      events: [
        {
          kind: 'step',
          atM: 500,
          heightM: inputs.step_mm / 1e3,
          heightSdM: 0,
          differenceM: null,
          lengthM: 0,
        },
      ],
      measured: null,
    };
    // Half a metre a frame would miss it; 5 cm a frame does not, and the cut-off is far below.
    const setup = bare(inputs.L_m, { speedMps: 5, rateHz: 100, cutoffHz: 0.05 });
    const { pitchRad } = eventShake(floor, setup, 120)!;
    const peak = Math.max(...pitchRad);
    const slow = { rel: 0.03, why: 'the high-pass takes 0.12 s out of 20 s' };
    expectWithin(1e3 * peak, expected.pitch_jump_mrad, slow);
    const tilted = pitchRad.filter((p) => p > peak / 2).length * (setup.speedMps / setup.rateHz);
    expectWithin(tilted, expected.pitch_duration_m, { abs: setup.speedMps / setup.rateHz, why: 'one frame' });
    expectWithin(predictShake(floor, setup).largestKickPx!, expected.px_at_f1600, slow);
  });
});
