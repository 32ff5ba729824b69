/** What parts of the search are for: without each of them simulated passes show what is not there, or are read wrong. */
import { describe, expect, it } from 'vitest';
import { quantile } from '../../../src/numerics/index.js';
import { floorModel } from '../../../src/spectrum/peaks/floor-model.js';
import { fitNotches } from '../../../src/spectrum/peaks/notch-fit.js';
import { taperSpectra } from '../../../src/spectrum/peaks/taper-spectra.js';
import { falseAlarms, notchesAsTold, speedAsSteady } from '../support/floor-trials.js';
import { lineAmplitudes } from '../support/line-strength.js';
import { resonanceLnOdds } from '../support/shape-trials.js';
import { simulatedPass, type SimulatedPass } from '../support/simulated-pass.js';

const amplitudeOf = lineAmplitudes('tilt', {});

describe('the notches of the wheelbase', () => {
  const toldWrong = (seed: number): SimulatedPass =>
    simulatedPass({ seed, durationS: 20, speedTold: 0.98, wheelbaseToldM: 0.455 });

  it('left where the crew told them give peaks to 4 of 10 floors in 20 s, and fitted to hardly any', () => {
    const runs = 16;
    expect(falseAlarms(toldWrong, runs, ['tilt'], notchesAsTold).tilt).toBeGreaterThan(0.4 * runs);
    expect(falseAlarms(toldWrong, runs, ['tilt']).tilt).toBeLessThanOrEqual(2);
  }, 60_000);

  it('are blurred by a speed that wanders: taken for steady, it gives peaks to a third of the floors', () => {
    const runs = 12;
    const wandering = (seed: number): SimulatedPass =>
      simulatedPass({ seed, durationS: 20, speedMps: 0.5, wander: 0.03 });
    expect(falseAlarms(wandering, runs, ['tilt'], speedAsSteady).tilt).toBeGreaterThanOrEqual(4);
    expect(falseAlarms(wandering, runs, ['tilt']).tilt).toBeLessThanOrEqual(1);
  }, 60_000);

  it('are not driven by a strong line, as they would be if its ordinates counted in full', () => {
    /** Middle of the errors of speed over wheelbase, beside a line 400 times above the floor. */
    const middleError = (lineCap?: number): number =>
      quantile(
        Array.from({ length: 16 }, (_, seed) => {
          const speedTold = seed % 2 === 0 ? 0.98 : 1.02;
          const freqHz = 2.5 + 0.51 * seed;
          const machines = [{ freqHz, amplitude: { tilt: amplitudeOf(freqHz, 400) } }];
          const series = simulatedPass({ seed, speedTold, machines }).searched('tilt');
          const spectra = taperSpectra(series);
          const { phase } = fitNotches(spectra, floorModel(spectra, series, series.floor!), null, lineCap);
          return Math.abs(phase.speedOverWheelbase * speedTold - 1);
        }),
        0.5,
      );
    expect(middleError()).toBeLessThan(0.004);
    expect(middleError(Infinity)).toBeGreaterThan(0.007);
  });
});

describe('lines close together', () => {
  const GAP_HZ = 0.35;
  const RUNS = 16;

  /** Runs in which two neighbours read as a resonance. */
  const misread = (mostLines?: number): number => {
    let count = 0;
    for (let seed = 1; seed <= RUNS; seed++) {
      const firstHz = 4 + 0.25 * seed;
      const machines = [firstHz, firstHz + GAP_HZ].map((freqHz) => ({
        freqHz,
        amplitude: { tilt: amplitudeOf(freqHz, 60) },
      }));
      const pass = simulatedPass({ seed, machines });
      if (resonanceLnOdds(pass, [firstHz - GAP_HZ, firstHz + 2 * GAP_HZ], mostLines) > 1) count++;
    }
    return count;
  };

  it('are told from a mount that rings, which a single line could not be', () => {
    expect(misread()).toBeLessThanOrEqual(2);
    expect(misread(1)).toBeGreaterThan(0.7 * RUNS);
  });

  it('leave a mount that rings what it is', () => {
    let seen = 0;
    for (let seed = 1; seed <= RUNS; seed++) {
      const freqHz = 4 + 0.25 * seed;
      const pass = simulatedPass({ seed, mount: { freqHz, dampingRatio: 0.03, gain: 0.5 } });
      if (resonanceLnOdds(pass, [freqHz - 0.4, freqHz + 0.4]) > 1) seen++;
    }
    expect(seen).toBeGreaterThanOrEqual(RUNS - 1);
  });
});
