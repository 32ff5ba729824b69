/** A measured pass as later questions need it: as it comes from the line, or read back from the files of its run. */
import type { PictureSize } from '../../optics/index.js';
import { restoreMotion, type Motion } from '../../motion/index.js';
import type {
  ClipSection,
  MotionSection,
  ResolvedDelivery,
  Rig,
  RunDocument,
  RunSeries,
  SpectrumSection,
  StabiliseSection,
  StoredFloor,
  SurfaceSection,
  TrackingSection,
} from '../../run/index.js';
import type { StabiliseMode } from '../../stabilise/index.js';

/** How the clip is to be stabilised; a missing smoothing is that of the split. */
export interface StabiliseChoice {
  readonly mode: StabiliseMode;
  readonly smoothingS: number | null;
  readonly takeS: number;
  readonly seed: number;
}

/** Everything that a verdict on this pass, or on a change of it, is computed from. */
export interface MeasuredPass {
  readonly motion: Motion;
  readonly rig: Rig;
  readonly delivery: ResolvedDelivery;
  /** Size of the clip's own pictures, px. */
  readonly source: PictureSize;
  readonly choice: StabiliseChoice;
  /** How the dolly rolled over the floor; null where the floor was not graded. */
  readonly floor: StoredFloor | null;
  readonly sections: {
    readonly clip: ClipSection;
    readonly tracking: TrackingSection;
    readonly motion: MotionSection;
    readonly spectrum: SpectrumSection;
    readonly stabilise: StabiliseSection;
    readonly surface: SurfaceSection;
  };
}

/** The pass of a stored run. @param series of the same run as the document */
export function passOfRun(run: RunDocument, series: RunSeries): MeasuredPass {
  const { clip, tracking, motion, spectrum, stabilise, surface } = run;
  const { assumed, ...rig } = run.rig;
  void assumed; // a note for readers: what was taken for granted is in the motion already
  return {
    motion: restoreMotion(series.motion),
    rig,
    delivery: run.delivery,
    source: { widthPx: clip.widthPx, heightPx: clip.heightPx },
    choice: series.stabilise,
    floor: series.floor,
    sections: { clip, tracking, motion, spectrum, stabilise, surface },
  };
}
