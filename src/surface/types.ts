/** What the surface room hands on: how rough the floor is, its profile, joints and bumps, grades, and what else it would do. */
import type { Assumption, SurfaceSection, Warning } from '../run/index.js';
import type { Pass } from './deck/pass.js';
import type { FloorEvent, JointRow } from './events/types.js';
import type { RailComparison } from './grades/rail-limit.js';
import type { Flatness } from './grades/flatness.js';
import type { SpokenGrade } from './grades/spoken.js';
import type { Straightedge } from './grades/straightedge.js';
import type { Texture } from './grades/texture.js';
import type { WavelengthBand } from './grades/wavelength-bands.js';
import type { PresentSetup } from './predict/changed-setups.js';
import type { MeasuredShake } from './predict/types.js';
import type { FloorLevels, SurfaceProfile } from './profile/types.js';
import type { RoughnessGrade } from './roughness/roughness-grade.js';

/** What the delivered picture makes of angles and heights. */
export interface SurfaceView {
  /** Focal length in px of the delivery. */
  readonly focalPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** What else bears on the grade. */
export interface SurfaceOptions {
  /**
   * Whether the stream holds predicted frames (P or B): their coding moves the picture a little, so the stated noise is trusted to
   * 50 % and not to 30 %. Unknown counts as inter-coded.
   */
  readonly interCoded?: boolean | null | undefined;
  /** Without it no bump is told in px and no setup is foretold in px. */
  readonly view?: SurfaceView | undefined;
  /** Boards or rail that could be laid over this floor, measured on runs of their own. */
  readonly otherSurfaces?: readonly { readonly name: string; readonly surface: SurfaceSection }[] | undefined;
}

/** One line of the list of bumps, with the times at which each axle is over it. */
export interface ListedEvent extends FloorEvent {
  /** Seconds from the container, the front axle first; only passages within the clip. */
  readonly axlesS: readonly number[];
}

/** What a floor that was graded shows beyond its roughness. */
export interface SurfaceDetail {
  readonly levels: FloorLevels;
  /** Null without pitch and heave. */
  readonly profile: SurfaceProfile | null;
  readonly events: readonly ListedEvent[];
  readonly row: JointRow | null;
  /** How far the scale of distances is known, as a share (95 %). */
  readonly distanceRange: number;
  readonly bands: readonly WavelengthBand[];
  readonly rail: RailComparison | null;
  readonly flatness: Flatness | null;
  readonly straightedges: readonly Straightedge[];
  readonly texture: Texture | null;
  /** Null where only "at least" can be said. */
  readonly spoken: SpokenGrade | null;
  /** The setup of this pass and what it measured, to foretell others from. */
  readonly present: PresentSetup;
  readonly measured: MeasuredShake;
  /** Travel of the rear axle, metres. */
  readonly runLengthM: number;
  /** From the rear to the front axle along the travel, as fitted, metres. */
  readonly frontAheadM: number;
  readonly otherSurfaces: readonly { readonly name: string; readonly surface: SurfaceSection }[];
}

/** The surface as graded; `grade` is null when the pass cannot show the floor at all, and `reason` says what to give. */
export interface Surface {
  readonly grade: RoughnessGrade | null;
  /** Null exactly when `grade` is. */
  readonly detail: SurfaceDetail | null;
  /** How the dolly rolled and how the camera sits on it; null when rig and clip do not tell. */
  readonly pass: Pass | null;
  /** Plain sentence for a missing grade or a bound; null otherwise. */
  readonly reason: string | null;
  readonly assumed: readonly Assumption[];
  readonly warnings: readonly Warning[];
}
