/** What the surface room hands on: how rough the floor is between wavelengths that the pass could show. */
import type { Assumption, Warning } from '../run/index.js';
import type { MachineLine } from './roughness/machine-lines.js';
import type { WavinessFit } from './roughness/waviness.js';

/** What else bears on the grade. */
export interface SurfaceOptions {
  /**
   * Whether the stream holds predicted frames (P or B): their coding moves the picture a little, so the stated noise is trusted to
   * 50 % and not to 30 %. Unknown counts as inter-coded.
   */
  readonly interCoded?: boolean | null | undefined;
}

/** The roughness that a pass found, or why it found none. */
export interface SurfaceGrade {
  /** Single-track Gd(n0) in m^3 at w = 2, lines of machines left out; the upper bound when `atMost`, the lower when `atLeast`. */
  readonly gdM3: number;
  /** The same with nothing left out; null when `atMost` for noise. */
  readonly gdAsRolledM3: number | null;
  /** Standard deviation of ln Gd, with the uncertainty of the noise. */
  readonly sdLn: number;
  /** True when only "Gd is at most gdM3" can be said. */
  readonly atMost: boolean;
  /** True when only "Gd is at least gdM3" can be said: roll alone shows the difference of the wheel tracks, and no more. */
  readonly atLeast: boolean;
  /** Exponent of the spectrum; null when the travel is too short or roll is missing. */
  readonly waviness: WavinessFit | null;
  /** Shortest and longest wavelength that the pass shows, m. */
  readonly wavelengthsM: readonly [number, number];
  /** Half-power wavenumber of the wheels' contact at the likeliest fit, cycles/m. */
  readonly contactCyclesPerM: number;
  readonly speedMps: number;
  /** Narrow lines that were left out and that chance does not explain: motors, fans, wheels. */
  readonly lines: readonly MachineLine[];
}

/** The surface as graded; `grade` is null when the pass cannot show the floor at all, and `reason` says what to give. */
export interface Surface {
  readonly grade: SurfaceGrade | null;
  /** Plain sentence for a missing grade or an "at most"; null otherwise. */
  readonly reason: string | null;
  readonly assumed: readonly Assumption[];
  readonly warnings: readonly Warning[];
}
