/** What the spectrum room takes and hands on: density, bands and peaks of each axis, what shakes and what the camera hides; SI units. */
import type { Axis, Rig } from '../run/index.js';
import type { Surface } from '../surface/index.js';
import type { FrameLevels } from '../tracking/index.js';
import type { OtherRun, RunToRun, ShakeSource, SuggestedSpeed } from './causes/types.js';
import type { Spectrogram } from './estimate/spectrogram.js';
import type { ThirdOctaveLevel } from './estimate/third-octaves.js';
import type { PeakFinding } from './peaks/types.js';
import type { Flicker } from './shutter/find-flicker.js';
import type { Heard, SoundSamples, SoundSays } from './sound/types.js';

/** What causes are read against, besides the motion. */
export interface SpectrumContext {
  readonly rig: Rig;
  /** How the dolly rolled, and the joints that its floor showed; null when it was not graded. */
  readonly surface: Pick<Surface, 'pass' | 'detail'> | null;
  readonly exposureS: number;
  /** Mean grey levels of the frames; null when they were not kept. */
  readonly levels: FrameLevels | null;
  /** Null for a clip without usable sound. */
  readonly sound: SoundSamples | null;
  /** Another run of the same rig, to compare with. */
  readonly otherRun: OtherRun | null;
}

/** The spectrum of one axis. Radians for angles; for translation the unit of `Spectrum.translationUnit`. */
export interface AxisSpectrum {
  readonly axis: Axis;
  /** From 0 Hz to Nyquist. */
  readonly freqHz: Float64Array;
  /** One-sided, rad^2/Hz for angles, translationUnit^2/Hz for translation. */
  readonly psd: Float64Array;
  /** One-sided density of the measurement noise, same unit: 2 * mean(noiseSd^2) / rate. */
  readonly noiseFloorPsd: number;
  readonly thirdOctaves: readonly ThirdOctaveLevel[];
  /** Null for a series too short for rows. */
  readonly spectrogram: Spectrogram | null;
  readonly finding: PeakFinding;
}

/** A source with what shutter, frame rate, sound and another run say of it. */
export interface SeenSource extends ShakeSource {
  /** RMS shift of the picture that its peaks make together, px of the analysed picture. */
  readonly shiftPx: number;
  /** The axis that shifts the picture most. */
  readonly largestAxis: Axis;
  /** Share of the amplitude that the shutter let through at the true frequency. */
  readonly exposureGain: number;
  /** RMS of the motion itself on the largest axis; null where the shutter let too little through to tell. */
  readonly trueRms: number | null;
  /** Every frequency of motion that frames would show here, lowest first. */
  readonly couldBeHz: readonly number[];
  /** Largest bend within a frame, px of the analysed picture; null where the readout of the sensor is not known. */
  readonly wobblePx: number | null;
  readonly sound: SoundSays | null;
  readonly otherRun: RunToRun | null;
}

/** Spectra of all axes that were observable, and what shakes. */
export interface Spectrum {
  /** How the densities were made, in words. */
  readonly method: string;
  readonly resolutionHz: number;
  readonly noiseBandwidthHz: number;
  readonly degreesOfFreedom: number;
  readonly ci95Factors: readonly [number, number];
  readonly nyquistHz: number;
  readonly exposureS: number;
  readonly translationUnit: 'm' | 'medianDepth';
  /** Mean speed under way, m/s; null when it is not known. */
  readonly speedMps: number | null;
  readonly axes: Readonly<Partial<Record<Axis, AxisSpectrum>>>;
  /** Where each axis shakes most, Hz; null when noise alone could look like it, absent with its axis. */
  readonly dominantHz: Readonly<Partial<Record<Axis, number | null>>>;
  /** What shifts the picture most first. */
  readonly sources: readonly SeenSource[];
  readonly suggestedSpeed: SuggestedSpeed | null;
  readonly flicker: Flicker | null;
  /** Null without sound. */
  readonly heard: Heard | null;
  readonly comparedWith: OtherRun | null;
  readonly notes: readonly string[];
}
