/**
 * What shake is predicted from and what is predicted: floors as fitted (m^3, m), setups (m, m/s, Hz, s), answers with 95 % ranges.
 */

/** A lasting step, or a bump or dip of a length, as the wheel of its pass met it; metres, + up. */
export interface PredictedEvent {
  readonly kind: 'step' | 'joint' | 'bump' | 'dip';
  /** From the rear axle's place at the first frame, along the travel. */
  readonly atM: number;
  /** Under the mean of both wheel tracks. */
  readonly heightM: number;
  readonly heightSdM: number;
  /** Left minus right; null without deck roll. */
  readonly differenceM: number | null;
  /** 0 for a step or joint. */
  readonly lengthM: number;
}

/** What a pass really shook, where machine and floor act together; noise taken off, in the vibration band. */
export interface MeasuredShake {
  readonly setup: SetupForPrediction;
  /** Null where it was not measured. */
  readonly pitchRadRms: number | null;
  readonly rollRadRms: number | null;
  readonly heaveMRms: number | null;
  /** Standard deviation of ln of these figures; 0 when they are to be taken as exact. */
  readonly sdLn: number;
}

/** A floor, boards or rail as one pass found it. */
export interface PredictedFloor {
  /**
   * Gd(n0) at w = 2 of the mean of both wheel tracks and of left minus right, between events, m^3. Null where the pass does not
   * show it: nothing is then said of pitch and heave, or of roll.
   */
  readonly meanTrackM3: number | null;
  readonly differenceM3: number | null;
  /** Standard deviation of ln Gd. */
  readonly sdLn: number;
  /** Half-power wavenumber of the contact of the wheels that rolled there. */
  readonly contactCyclesPerM: number;
  /** Shortest and longest wavelength that the pass showed, metres. */
  readonly wavelengthsM: readonly [number, number];
  /** Exponent as fitted; null where it was not. */
  readonly waviness: { readonly value: number; readonly sd: number } | null;
  /** Travel of the rear axle in the pass. */
  readonly runLengthM: number;
  readonly events: readonly PredictedEvent[];
  /** Null when only the fit is known: then no machine part is told apart. */
  readonly measured: MeasuredShake | null;
}

/** The wheels of a setup, against those that rolled over the floor. */
export interface PredictedWheel {
  /** Diameter over that of the wheels of the pass. */
  readonly diameterFactor: number;
  /** Half-power wavenumber of its contact; null: that of the pass, moved by the diameter. */
  readonly contactCyclesPerM: number | null;
  /** How far that may be off, as a factor either way (95 %); 1 when it is known. */
  readonly contactFactor95: number;
}

/** What the lens makes of an angle: sizes of the delivered picture in px. */
export interface PredictedView {
  /** Focal length in px of the delivery. */
  readonly focalPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** A dolly, its speed and its camera. */
export interface SetupForPrediction {
  readonly speedMps: number;
  readonly rateHz: number;
  readonly exposureS: number;
  /** Half-gain frequency of the high-pass: the lower end of the vibration band. */
  readonly cutoffHz: number;
  readonly wheelbaseM: number;
  readonly trackWidthM: number | null;
  readonly wheel: PredictedWheel;
  /** Lens azimuth against travel, + to the right. */
  readonly azimuthRad: number;
  /** Null when lens or delivery are not known. */
  readonly view: PredictedView | null;
}

/** A value and the ends of its 95 % range. */
export interface Ranged {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** One RMS: what is expected, and what it is made of. */
export interface PredictedRms extends Ranged {
  /** Of roughness and of joints and bumps alone, by the model. */
  readonly roughness: number;
  readonly events: number;
  /** When all that was measured is the floor's, and when only the fitted part is; equal when nothing was left over. */
  readonly allFloor: number;
  readonly fittedOnly: number;
  /** Share of the roughness' power that comes from waves the pass did not show, 0..1. */
  readonly unseenShare: number;
}

/** Why a figure is missing. */
export type PredictionGap = 'tooManyUnseenWaves' | 'runTooShort';

/** Shake of a setup over a floor; RMS in the band from cutoffHz to half the frame rate, as a clip would show it. */
export interface ShakePrediction {
  readonly pitchRad: PredictedRms | null;
  readonly rollRad: PredictedRms | null;
  readonly heaveM: PredictedRms | null;
  /** Shift of the delivered picture by angles alone, px RMS: in its middle, and at its corners, where roll adds. */
  readonly centrePx: PredictedRms | null;
  readonly cornerPx: PredictedRms | null;
  /**
   * Largest shift that joints and bumps make, px, at the corners where roll is known, else in the middle; null without a view or
   * events.
   */
  readonly largestKickPx: number | null;
  /** Why figures above are null that the floor would allow; null otherwise. */
  readonly refused: PredictionGap | null;
}
