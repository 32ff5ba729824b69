/** How large a line must be to stand so many times above what the floor alone shows: amplitudes for simulated passes. */
import { fourthDifferenceGain } from '../../../src/numerics/index.js';
import { exposureGain } from '../../../src/optics/index.js';
import { findPeaks } from '../../../src/spectrum/peaks/find-peaks.js';
import { PLAIN, simulatedPass, type SimulatedAxis, type SimulatedOptions } from './simulated-pass.js';

const CUTOFF_HZ = 0.8;
/** Backgrounds that are averaged: each is known to a few per cent. */
const PASSES = 12;

/** Amplitude of a motion by the frequency where frames show it, its strength there, and its true frequency. */
export type LineAmplitude = (seenHz: number, strength: number, trueHz?: number) => number;

/**
 * The law for one axis of one kind of pass: rho = A^2 T / (2 S), with S the mean background of passes over the floor alone.
 *
 * @returns amplitude of the motion before shutter and high-pass
 */
export function lineAmplitudes(axis: SimulatedAxis, given: Partial<SimulatedOptions>): LineAmplitude {
  const { durationS, rateHz, shutterShare } = { ...PLAIN, ...given };
  const found = Array.from(
    { length: PASSES },
    (_, i) => findPeaks(simulatedPass({ ...given, seed: 9000 + i }).searched(axis)).background,
  );
  const { freqHz } = found[0];
  const psd = freqHz.map((_, k) => found.reduce((sum, one) => sum + one.psd[k], 0) / PASSES);
  const level = (f: number): number => {
    let k = 0;
    while (k < freqHz.length - 2 && freqHz[k + 1] < f) k++;
    return psd[k] + ((psd[k + 1] - psd[k]) * (f - freqHz[k])) / (freqHz[k + 1] - freqHz[k]);
  };
  return (seenHz, strength, trueHz = seenHz) =>
    Math.sqrt((2 * strength * level(seenHz)) / durationS) /
    fourthDifferenceGain(seenHz, rateHz, CUTOFF_HZ) /
    exposureGain(trueHz, shutterShare / rateHz);
}
