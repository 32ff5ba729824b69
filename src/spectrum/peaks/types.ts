/** What the search for peaks takes and gives, in hertz and the unit of the series that is searched. */

/** How the floor reaches one axis of the camera through the dolly, and at what pace. */
export interface FloorView {
  /**
   * Power of the axis over power of the height of the mean track (or of the difference of the tracks), up to a constant, at a
   * wavenumber; `phaseScale` is wheelbase over speed in the notches over the same as given, near 1.
   */
  readonly powerGain: (cyclesPerM: number, phaseScale: number) => number;
  readonly wheelbaseM: number;
  /** Speeds in the stretch, each standing for an equal share of its frames, m/s; one value when it is steady. */
  readonly speedsMps: Float64Array;
  readonly exposureS: number;
  /** Wavenumber at which the contact of the wheel lets half of the power through, cycles/m. */
  readonly contactCyclesPerM: number;
  /** Standard deviation of speed over wheelbase as given, as a share of it. */
  readonly phaseSd: number;
}

/** One axis of the vibration as the search takes it: even samples without gaps. */
export interface SearchedSeries {
  /** High-passed at `cutoffHz` (fourth difference, half amplitude there); length n. Not changed. */
  readonly values: Readonly<Float64Array>;
  readonly rateHz: number;
  readonly cutoffHz: number;
  /** Standard deviation of the white measurement noise per sample before the high-pass; 0 when unknown. */
  readonly noiseSd: number;
  /** Way of the dolly at each sample, metres, rising; null when it is not known. */
  readonly placeM: Readonly<Float64Array> | null;
  /** Null where no model of the floor holds: no wheelbase or speed, a head that is not rigid, an axis that no height drives. */
  readonly floor: FloorView | null;
  /**
   * Where no model of the floor holds: speed of a dolly whose floor may still drive this axis, m/s; every peak that two axles could
   * print is then said to be one. Null or left out where no speed is known or no height drives the axis, as pan.
   */
  readonly rippleSpeedMps?: number | null;
}

/** A resonance that lifts the spectrum around itself: |1 + g r^2 / (1 - r^2 + 2 i z r)|^2, r = f / f0. */
export interface Resonance {
  readonly dampingRatio: number;
  readonly gain: number;
}

/** One peak of one axis. */
export interface FoundPeak {
  readonly freqHz: number;
  readonly freqSdHz: number;
  /** Full width at half power, never below the resolution 1 / T. */
  readonly widthHz: number;
  /** RMS as seen, background taken off, the high-pass put right, not corrected for the shutter. */
  readonly rms: number;
  /** Standard deviation of `rms`, as a share of it. */
  readonly rmsShare: number;
  /** Height over the background, dB. */
  readonly prominenceDb: number;
  /** rho = A^2 T / (2 S_b): power of the line over the background in one resolution cell. */
  readonly strength: number;
  /** Probability that this is a resonance and no line, 0..1. */
  readonly broadProbability: number;
  /** Null for a line. */
  readonly resonance: Resonance | null;
  /** Probability that it has a constant wavelength on the floor rather than a constant frequency, from how the speed varied; null when it did not. */
  readonly followsTravel: number | null;
  /** May be a ripple that the two axles print on the spectrum of any floor: said where no model of the floor holds. */
  readonly mayBeRipple: boolean;
}

/** Wheelbase over speed as the notches of the spectrum show it. */
export interface FittedPhase {
  /** Speed over wheelbase as fitted, over the same as given. */
  readonly speedOverWheelbase: number;
  readonly sd: number;
  /** False where the pass is too short for the notches to tell: T v / L < 4. */
  readonly refined: boolean;
}

/** The peaks of one axis and what they stand out of. */
export interface PeakFinding {
  /** Strongest over its threshold first, at most 12. */
  readonly peaks: readonly FoundPeak[];
  /** The level without peaks: one-sided density on bins 1 / T apart, columns of equal length over the band searched. */
  readonly background: { readonly freqHz: Float64Array; readonly psd: Float64Array };
  readonly kind: 'floor' | 'median';
  readonly phase: FittedPhase | null;
  /** Of 100 spectra of a floor alone that many show a peak, as measured; null where it was not measured for such an axis. */
  readonly falseInHundred: number | null;
  /** Plain sentence where no search was made; null otherwise. */
  readonly refusal: string | null;
}
