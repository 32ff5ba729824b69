/** Playing by frames: how fast J, K and L make it, and which frame is due. */

/** Times the speed of the clip that a key steps through. */
const SPEEDS = [1, 2, 4, 8];

/**
 * The speed after J (back) or L (on): the first press plays, each further one is faster, the other way begins anew.
 * @param speed times the speed of the clip, negative is back, 0 stands
 */
export function shuttled(speed: number, way: -1 | 1): number {
  if (speed * way <= 0) return way;
  const at = SPEEDS.indexOf(Math.abs(speed));
  return way * SPEEDS[Math.min(SPEEDS.length - 1, at + 1)];
}

/** The frame that is due some seconds after playing began at a frame, held to the clip. @param fps frames a second of the clip */
export function frameDue(
  beganAt: number,
  elapsedS: number,
  speed: number,
  { fps, frames }: { readonly fps: number; readonly frames: number },
): number {
  return Math.min(frames - 1, Math.max(0, beganAt + Math.trunc(elapsedS * speed * fps)));
}

/** Where playing begins: on from the last frame begins at the first, back from the first at the last. */
export function playStart(frame: number, speed: number, frames: number): number {
  if (speed > 0 && frame >= frames - 1) return 0;
  return speed < 0 && frame <= 0 ? frames - 1 : frame;
}
