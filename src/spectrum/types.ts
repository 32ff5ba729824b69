/** What the spectrum room hands on: density, noise floor and peaks of each axis of the vibration, in SI units. */
import type { Axis } from '../run/index.js';
import type { FoundPeak } from './peaks/find-peaks.js';

/** A peak of one axis. Radians for angles; for translation the unit of `Spectrum.translationUnit`. */
export interface SpectrumPeak extends FoundPeak {
  readonly axis: Axis;
}

/** The spectrum of one axis. */
export interface AxisSpectrum {
  readonly axis: Axis;
  /** From 0 Hz to Nyquist. */
  readonly freqHz: Float64Array;
  /** One-sided, rad^2/Hz for angles, translationUnit^2/Hz for translation. */
  readonly psd: Float64Array;
  /** One-sided density of the measurement noise, same unit: 2 * mean(noiseSd^2) / rate. */
  readonly noiseFloorPsd: number;
  /** Highest over the background first, at most 12. */
  readonly peaks: readonly SpectrumPeak[];
}

/** Spectra of all axes that were observable. */
export interface Spectrum {
  /** How the densities were made, in words. */
  readonly method: string;
  readonly resolutionHz: number;
  readonly noiseBandwidthHz: number;
  readonly degreesOfFreedom: number;
  readonly ci95Factors: readonly [number, number];
  readonly nyquistHz: number;
  readonly translationUnit: 'm' | 'medianDepth';
  readonly axes: Readonly<Partial<Record<Axis, AxisSpectrum>>>;
  /** Where each axis shakes most, Hz; null when noise alone could look like it, absent with its axis. */
  readonly dominantHz: Readonly<Partial<Record<Axis, number | null>>>;
}
