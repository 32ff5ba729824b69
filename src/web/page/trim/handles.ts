/** Where the handles over the strip of frames may stand: from pointer and keys to frames, by frame number from the head of the clip. */

/** The two ends of the stretch and the frame that is looked at. */
export type Handle = 'in' | 'out' | 'head';

/** What moves between which frames. */
export interface HandlePlaces {
  readonly frames: number;
  readonly inFrame: number;
  readonly outFrame: number;
}

/** The frames that a handle may stand at: in before out by a frame at least; the playhead anywhere. @returns first and last, both allowed */
export function reachOf(
  handle: Handle,
  { frames, inFrame, outFrame }: HandlePlaces,
): readonly [number, number] {
  if (handle === 'in') return [0, Math.max(0, outFrame - 1)];
  if (handle === 'out') return [Math.min(frames, inFrame + 1), frames];
  return [0, frames - 1];
}

/** The nearest frame that it may stand at. */
export function heldTo(frame: number, [first, last]: readonly [number, number]): number {
  return Math.min(last, Math.max(first, frame));
}

/**
 * The frame of a place along the strip: in and out stand on the edges between frames, the playhead on a frame.
 * @param share 0 at the left end, 1 at the right
 */
export function frameAtShare(handle: Handle, share: number, frames: number): number {
  const at = Math.min(1, Math.max(0, share)) * frames;
  return handle === 'head' ? Math.min(frames - 1, Math.floor(at)) : Math.round(at);
}

/** Which frame is looked at while a handle moves: of out, the last that is kept. */
export function lookedAt(handle: Handle, frame: number): number {
  return handle === 'out' ? Math.max(0, frame - 1) : frame;
}

/**
 * Where a key moves a handle.
 * @param perSecond frames that shift with an arrow key steps by
 * @returns null when the key moves nothing
 */
export function frameOfKey(
  key: string,
  withShift: boolean,
  frame: number,
  perSecond: number,
  [first, last]: readonly [number, number],
): number | null {
  const step = withShift ? perSecond : 1;
  switch (key) {
    case 'ArrowRight':
    case 'ArrowUp':
      return heldTo(frame + step, [first, last]);
    case 'ArrowLeft':
    case 'ArrowDown':
      return heldTo(frame - step, [first, last]);
    case 'PageUp':
      return heldTo(frame + perSecond, [first, last]);
    case 'PageDown':
      return heldTo(frame - perSecond, [first, last]);
    case 'Home':
      return first;
    case 'End':
      return last;
    default:
      return null;
  }
}

/** The posters that fill the strip, one a cell: of each, the one that is shown nearest to the middle of its cell. @returns their numbers */
export function cellsOf(atS: readonly number[], durationS: number, cells: number): number[] {
  if (atS.length === 0 || cells < 1) return [];
  return Array.from({ length: cells }, (_, cell) => {
    const middleS = ((cell + 0.5) / cells) * durationS;
    let nearest = 0;
    for (let i = 1; i < atS.length; i++)
      if (Math.abs(atS[i] - middleS) < Math.abs(atS[nearest] - middleS)) nearest = i;
    return nearest;
  });
}
