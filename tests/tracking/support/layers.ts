/** Pictures of two textures, one before the other, that move each by itself: an edge in depth with known motion. */
import type { TrackTable } from '../../../src/tracking/index.js';
import type { AnalyticTexture, Placement } from './analytic-texture.js';

/** One texture and how it moves. */
export interface Layer {
  readonly texture: AnalyticTexture;
  readonly place: (frame: number) => Placement;
}

/** The near layer covers what lies left of an upright edge that moves with it. */
export interface Layers {
  readonly far: Layer;
  readonly near: Layer;
  /** Where the edge stands in frame 0, px. */
  readonly edgeXPx: number;
}

/** What a camera sees of the two layers in a frame. */
export function layeredPicture({ far, near, edgeXPx }: Layers, frame: number): Uint8Array {
  const picture = far.texture.picture(far.place(frame));
  const front = near.texture.picture(near.place(frame));
  const edge = Math.round(edgeXPx + near.place(frame).shiftXPx);
  const width = far.texture.widthPx;
  for (let row = 0; row < picture.length; row += width) picture.set(front.subarray(row, row + edge), row);
  return picture;
}

/** Largest error of each track, px, against the layer whose motion it follows better. */
export function worstTrackErrors(table: TrackTable, { far, near }: Layers): number[] {
  return Array.from({ length: table.trackCount }, (_, track) => {
    const first = table.trackStart[track];
    const errors = [far, near].map(({ texture, place }) => {
      let worst = 0;
      for (let i = first + 1; i < table.trackStart[track + 1]; i++) {
        const from = place(table.obsFrame[first]);
        const to = place(table.obsFrame[i]);
        const [x, y] = texture.follow(from, to, table.xPx[first], table.yPx[first]);
        worst = Math.max(worst, Math.hypot(table.xPx[i] - x, table.yPx[i] - y));
      }
      return worst;
    });
    return Math.min(...errors);
  });
}
