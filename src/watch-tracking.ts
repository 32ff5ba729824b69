/** What can be watched while a clip is tracked: a grey frame now and then, and the rough angles of the camera at every frame, radians. */
import type { MeasureHooks, TrackedLook } from './measure-request.js';
import { roughTurn, type RoughTurn } from './motion/index.js';
import type { Camera, PictureSize } from './optics/index.js';
import type { FollowedFrame, TrackingOptions } from './tracking/index.js';

/** Least time between two frames that are shown, ms: an eye that glances needs no more, and copies cost time. */
const BETWEEN_LOOKS_MS = 250;

/**
 * The hook of the tracker that serves those of a measurement; empty when nobody watches.
 *
 * @param cameraOf the camera of frames of a size, as far as the rig tells it
 */
export function watchTracking(
  { onLook, onAngles }: Pick<MeasureHooks, 'onLook' | 'onAngles'>,
  cameraOf: (frame: PictureSize) => Camera,
): Pick<TrackingOptions, 'onFollowed'> {
  if (!onLook && !onAngles) return {};
  let camera: Camera | undefined;
  let angles: RoughTurn = { panRad: 0, tiltRad: 0, rollRad: 0 };
  let shownMs = -Infinity;
  return {
    onFollowed(frame) {
      if (onAngles) {
        camera ??= cameraOf(frame);
        angles = sum(angles, roughTurn(camera, frame.before, frame.after));
        onAngles({ timeS: frame.timeS, ...angles });
      }
      const nowMs = performance.now();
      if (!onLook || nowMs - shownMs < BETWEEN_LOOKS_MS) return;
      shownMs = nowMs;
      onLook(copyOf(frame));
    },
  };
}

function sum(angles: RoughTurn, turn: RoughTurn | null): RoughTurn {
  if (!turn) return angles;
  return {
    panRad: angles.panRad + turn.panRad,
    tiltRad: angles.tiltRad + turn.tiltRad,
    rollRad: angles.rollRad + turn.rollRad,
  };
}

function copyOf({ timeS, widthPx, heightPx, grey, after }: FollowedFrame): TrackedLook {
  return { timeS, widthPx, heightPx, grey: grey.slice(), xPx: after.xPx.slice(), yPx: after.yPx.slice() };
}
