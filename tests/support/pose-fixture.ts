/** Short simulated passes stored as JSON: tracks in pixels and the true places of their points in metres. */
import type { Camera } from '../../src/optics/index.js';
import type { TrackTable } from '../../src/tracking/index.js';

/** Name and version of the file. */
export const POSE_FIXTURE_FORMAT = 'trundle-pose-tracks/1';

/** The whole file. */
export interface PoseFixture {
  readonly format: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly fps: number;
  readonly passes: readonly PosePass[];
}

/** One pass; every track is seen in frames that follow one another. */
export interface PosePass {
  readonly name: string;
  readonly focalPx: number;
  readonly frameCount: number;
  readonly travelM: number;
  readonly tracks: readonly {
    readonly firstFrame: number;
    /** Place in the world; null for a track on something that moves. */
    readonly pointM: readonly number[] | null;
    readonly xPx: readonly number[];
    readonly yPx: readonly number[];
  }[];
}

/** A stored pass as the split takes it. @throws Error when the file is of another format */
export function tracksOf(fixture: PoseFixture, pass: PosePass): { table: TrackTable; camera: Camera } {
  if (fixture.format !== POSE_FIXTURE_FORMAT) {
    throw new Error(`expected ${POSE_FIXTURE_FORMAT}, got ${fixture.format}`);
  }
  const { widthPx, heightPx, fps } = fixture;
  const trackStart = new Int32Array(pass.tracks.length + 1);
  pass.tracks.forEach(({ xPx }, i) => (trackStart[i + 1] = trackStart[i] + xPx.length));
  return {
    table: {
      widthPx,
      heightPx,
      frameCount: pass.frameCount,
      timeS: Float64Array.from({ length: pass.frameCount }, (_, t) => t / fps),
      trackCount: pass.tracks.length,
      trackStart,
      obsFrame: Int32Array.from(
        pass.tracks.flatMap(({ firstFrame, xPx }) => xPx.map((_, k) => firstFrame + k)),
      ),
      xPx: Float64Array.from(pass.tracks.flatMap(({ xPx }) => xPx)),
      yPx: Float64Array.from(pass.tracks.flatMap(({ yPx }) => yPx)),
    },
    camera: {
      widthPx,
      heightPx,
      focalPx: pass.focalPx,
      centreXPx: (widthPx - 1) / 2,
      centreYPx: (heightPx - 1) / 2,
      distortion: null,
    },
  };
}
