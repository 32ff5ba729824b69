/** The search over a floor as the dolly shows it: what notches, slope, mounts and pace do to it. Simulated passes. */
import { describe, expect, it } from 'vitest';
import { findPeaks } from '../../../src/spectrum/peaks/find-peaks.js';
import type { PeakFinding } from '../../../src/spectrum/peaks/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { simulatedPass, type SimulatedOptions } from '../support/simulated-pass.js';

const PASSES = 8;
/** Amplitude of a plain machine, far above the floor: 30 mdeg. */
const STRONG_RAD = 5e-4;

const tilt = (given: Partial<SimulatedOptions>): PeakFinding =>
  findPeaks(simulatedPass(given).searched('tilt'));

describe('peaks over a floor', () => {
  it('does not take the ripples of the wheelbase for peaks, where a running median does', () => {
    let [floor, median] = [0, 0];
    for (let seed = 1; seed <= PASSES; seed++) {
      const series = simulatedPass({
        seed,
        durationS: 28,
        speedMps: 0.5,
        speedTold: seed % 2 ? 0.98 : 1.02,
        wander: 0.01,
      }).searched('tilt');
      if (findPeaks(series).peaks.length > 0) floor++;
      if (findPeaks({ ...series, floor: null }).peaks.length > 0) median++;
    }
    // 3 of 100 as stated: more than two of eight has a chance of one in 700.
    expect(floor).toBeLessThanOrEqual(2);
    expect(median).toBeGreaterThan(floor + 2);
  });

  it('finds speed over wheelbase though both are told wrong', () => {
    const { phase } = tilt({ seed: 3, durationS: 20, speedTold: 1.02, wheelbaseToldM: 0.445 });
    expect(phase!.refined).toBe(true);
    expectWithin(phase!.speedOverWheelbase, 0.445 / 0.45 / 1.02, {
      abs: 0.004,
      why: '0.15 % at 20 s, twice and more',
    });
  });

  it('leaves speed over wheelbase as told where the pass is too short to say, and says so', () => {
    const { phase } = tilt({ seed: 3, durationS: 10, speedMps: 0.1 });
    expect(phase!.refined).toBe(false);
    expectWithin(phase!.speedOverWheelbase, 1, { abs: 1e-9 });
    expectWithin(phase!.sd, Math.hypot(0.02, 0.005 / 0.45), { rel: 0.05, why: 'prior cut at 6 %' });
  });

  it('finds a machine at its frequency with the size of the motion, as the shutter shows it', () => {
    const { peaks, kind, refusal } = tilt({
      seed: 4,
      machines: [{ freqHz: 5.3, amplitude: { tilt: STRONG_RAD } }],
    });
    expect(kind).toBe('floor');
    expect(refusal).toBeNull();
    expect(peaks.length).toBe(1);
    const [{ freqHz, freqSdHz, rms, rmsShare, resonance, broadProbability }] = peaks;
    expect(Math.abs(freqHz - 5.3)).toBeLessThan(2 * freqSdHz);
    const shutter = Math.sin(Math.PI * 5.3 * 0.02) / (Math.PI * 5.3 * 0.02);
    expectWithin(rms, (STRONG_RAD * shutter) / Math.SQRT2, {
      rel: 2 * rmsShare + 0.01,
      why: 'two deviations',
    });
    expect(resonance).toBeNull();
    expect(broadProbability).toBeLessThan(0.05);
  });

  it('gives the size before the high-pass, also near its edge', () => {
    const [slow] = tilt({ seed: 4, machines: [{ freqHz: 1.05, amplitude: { tilt: 0.01 } }] }).peaks;
    expectWithin(slow.rms, 0.01 / Math.SQRT2, { rel: 0.03, why: 'gain 0.898 there' });
  });

  it('reports a mount once, as a resonance', () => {
    let [found, broad, others] = [0, 0, 0];
    for (let seed = 1; seed <= 8; seed++) {
      const mount = { freqHz: 5 + 0.5 * seed, dampingRatio: 0.04, gain: 0.6 };
      const { peaks } = tilt({ seed, mount });
      const near = peaks.filter(({ freqHz }) => Math.abs(freqHz / mount.freqHz - 1) < 0.12);
      if (near.length > 0) found++;
      if (near.length === 1 && near[0].resonance !== null) broad++;
      others += peaks.length - near.length;
    }
    expect(found).toBe(8);
    expect(broad).toBeGreaterThanOrEqual(6);
    expect(others).toBeLessThanOrEqual(4);
  });

  it('tells by an uneven pace what turns with the way from what turns with the time', () => {
    const lines = (rolling: boolean): PeakFinding =>
      tilt({
        seed: 6,
        speedMps: 0.5,
        wander: 0.03,
        machines: [{ freqHz: 7, amplitude: { tilt: STRONG_RAD }, rolling }],
      });
    const [way] = lines(true).peaks;
    const [time] = lines(false).peaks;
    expect(way.followsTravel).toBeGreaterThan(0.95);
    expect(time.followsTravel).toBeLessThan(0.05);
    // The traces that an uneven pace leaves over time are no peaks of their own.
    expect(lines(true).peaks.length).toBe(1);
  });

  it('leaves open what a line follows at a steady pace', () => {
    const { peaks } = tilt({ seed: 4, machines: [{ freqHz: 5.3, amplitude: { tilt: STRONG_RAD } }] });
    expect(peaks[0].followsTravel).toBeNull();
  });

  it('refuses what is too short, has gaps or stands still, in a sentence and without numbers that are none', () => {
    const series = simulatedPass({ seed: 1 }).searched('tilt');
    const refused = (values: Float64Array): string | null => {
      const finding = findPeaks({ ...series, values });
      expect(finding.peaks).toEqual([]);
      return finding.refusal;
    };
    expect(refused(series.values.slice(0, 40))).toMatch(/shorter than 2 s/);
    expect(refused(series.values.map((v, i) => (i === 9 ? NaN : v)))).toMatch(/gaps/);
    expect(refused(new Float64Array(250))).toMatch(/stands still/);
  });

  it('gives finite numbers throughout and the same ones again, and leaves the series as it was', () => {
    const series = simulatedPass({ seed: 8, mount: { freqHz: 6, dampingRatio: 0.03, gain: 0.5 } }).searched(
      'tilt',
    );
    const before = series.values.slice();
    const first = findPeaks(series);
    expect(findPeaks(series)).toEqual(first);
    expect(series.values).toEqual(before);
    expect(first.background.psd.every((b) => Number.isFinite(b) && b > 0)).toBe(true);
    for (const { freqHz, freqSdHz, rms, rmsShare, strength } of first.peaks)
      for (const x of [freqHz, freqSdHz, rms, rmsShare, strength]) expect(Number.isFinite(x)).toBe(true);
  });
});
