/** Profiles of made-up floors as a pass would hold them: sampled once a frame, without the waves that the high-pass takes; metres. */
import { fourthDifferenceSmooth } from '../../../src/numerics/index.js';
import type { SurfaceProfile } from '../../../src/surface/profile/types.js';
import { madeUpFloor, SPACING_M } from './made-up-floor.js';

/** A run whose profile is known without error but for its band. */
export interface GradedRun {
  readonly profile: SurfaceProfile;
  readonly bandM: readonly [number, number];
  /** Heights of both lines with nothing left out, at the same points. */
  readonly trueM: readonly [Float64Array, Float64Array];
}

/** Both wheel lines of a w = 2 floor at `speedMps`, 25 frames/s, vibration above 0.8 Hz. */
export function gradedRun(seed: number, speedMps: number, lengthM: number, gdM3: number): GradedRun {
  const every = Math.round(speedMps / 25 / SPACING_M);
  const stepM = every * SPACING_M;
  const { left, right } = madeUpFloor(seed, lengthM, gdM3);
  const trueM = [left, right].map((track) =>
    Float64Array.from({ length: Math.floor(track.length / every) }, (_, i) => track[i * every]),
  ) as [Float64Array, Float64Array];
  const [leftM, rightM] = trueM.map((heightM) => {
    const slow = fourthDifferenceSmooth(heightM, 25, 0.8);
    return heightM.map((height, i) => height - slow[i]);
  });
  const sdM = new Float64Array(leftM.length).fill(1e-6);
  return {
    profile: {
      distanceM: Float64Array.from(leftM, (_, i) => i * stepM),
      heightM: leftM.map((height, i) => (height + rightM[i]) / 2),
      sdM,
      sides: { leftM, rightM, sdM },
    },
    bandM: [2 * stepM, speedMps / 0.8],
    trueM,
  };
}

/** A profile of one line, given point by point. */
export function lineProfile(heightM: Float64Array, stepM: number, errorSdM: number): SurfaceProfile {
  return {
    distanceM: Float64Array.from(heightM, (_, i) => i * stepM),
    heightM,
    sdM: new Float64Array(heightM.length).fill(errorSdM),
    sides: null,
  };
}
