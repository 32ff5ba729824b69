/**
 * What stabilisation leaves, cause by cause, in px of the delivery and in minutes of arc from where it is watched (see
 * `arcMinutesPerPx`).
 */

/**
 * A picture motion that is left. Of each frame the RMS over the delivered picture is taken, as the length of the vector
 * (across and down together); the figures are over the frames, without the ends of the clip, measuring noise taken off.
 */
export interface Left {
  readonly rmsPx: number;
  /** 95th percentile over the frames; null where only a bound is known. */
  readonly p95Px: number | null;
  readonly arcMinRms: number;
  readonly arcMinP95: number | null;
}

/** How the smear of the exposure pulses; `Left` holds the deviation of each frame's smear from its median. */
export interface BlurLeft extends Left {
  /** 99.5 minus 0.5 percentile of the smear's length over the frames. */
  readonly pulsePx: number;
  readonly pulseArcMin: number;
}

/** The single causes of what is left. */
export interface ResidualCauses {
  /**
   * Translational vibration, seen at the depths of the scene: a warp that turns the picture takes none of it. Null when
   * translation cannot be told from rotation and has no bound.
   */
  readonly translation: Left | null;
  /** The part of `translation` that differs between near and far: it survives even a shift of the whole picture. */
  readonly parallax: Left | null;
  /** Angular shake that the chosen target path itself still holds, above the lower edge of the vibration band. */
  readonly path: Left;
  /** Turning within the frames of a sensor read row by row, after what is corrected of it; null: readout unknown. */
  readonly readout: Left | null;
  /** The same had each frame been turned as one; equal to `readout` where it is. */
  readonly readoutWholeFrames: Left | null;
  /** Noise of the measured angles, which the warp writes into the picture. */
  readonly tracking: Left;
  /** Pulsing sharpness, no motion: not part of the total. Null: exposure unknown, or no frames. */
  readonly blur: BlurLeft | null;
}

/** What is left of a shake after stabilisation. */
export interface Residual {
  /**
   * value: estimates; atMost: translation lies below the noise, or could not be told from rotation and is all counted as
   * translation: `total`, `translation` and `parallax` are upper bounds; notObservable: those three are null.
   */
  readonly status: 'value' | 'atMost' | 'notObservable';
  /** Root of the sum of squares of translation, path, readout (when known) and tracking. */
  readonly total: Left | null;
  readonly causes: ResidualCauses;
}
