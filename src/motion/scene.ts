/**
 * The unknowns of the split: the pose of every frame and the bearing and inverse depth of every track.
 *
 * World to camera: Y = R (X - C), axes x right, y down, z forward. Each track lives in a chart of its own, a pose
 * (A, c) fixed when the track was taken in, by (a, b, rho): seen from frame t it lies in the direction
 * Y = R_t (A^T (a, b, 1) + rho (c - C_t)), so a far point is rho = 0 and needs no special case (own derivation of the
 * usual inverse-depth form). The unit of length is free until the metric scale is set.
 */

/** Poses and points as columns; the algorithms of this room change them in place. */
export interface Scene {
  /** World-to-camera rotations, 9 per frame, row-major. */
  readonly rotations: Float64Array;
  /** Camera centres, 3 per frame. */
  readonly centres: Float64Array;
  /** Pose of each track's chart: 9 and 3 per track; constants. */
  readonly chartRotations: Float64Array;
  readonly chartCentres: Float64Array;
  /** (a, b, rho) of each track: bearing in its chart, inverse depth. */
  readonly points: Float64Array;
  /** Trust in each track, 0..1; a track of weight 0 follows the poses but does not pull on them. */
  readonly trackWeights: Float64Array;
}

/** All poses at the origin, all tracks ahead of it at inverse depth 0, all trusted. */
export function blankScene(frameCount: number, trackCount: number): Scene {
  const scene: Scene = {
    rotations: new Float64Array(9 * frameCount),
    centres: new Float64Array(3 * frameCount),
    chartRotations: new Float64Array(9 * trackCount),
    chartCentres: new Float64Array(3 * trackCount),
    points: new Float64Array(3 * trackCount),
    trackWeights: new Float64Array(trackCount).fill(1),
  };
  for (let k = 0; k < 9 * frameCount; k += 9) setIdentity(scene.rotations, k);
  for (let k = 0; k < 9 * trackCount; k += 9) setIdentity(scene.chartRotations, k);
  return scene;
}

/** A copy of all columns. */
export function copyOfScene(scene: Scene): Scene {
  return {
    rotations: scene.rotations.slice(),
    centres: scene.centres.slice(),
    chartRotations: scene.chartRotations.slice(),
    chartCentres: scene.chartCentres.slice(),
    points: scene.points.slice(),
    trackWeights: scene.trackWeights.slice(),
  };
}

/** Gives a scene the values of another of the same size. */
export function takeOver(scene: Scene, from: Scene): void {
  scene.rotations.set(from.rotations);
  scene.centres.set(from.centres);
  scene.chartRotations.set(from.chartRotations);
  scene.chartCentres.set(from.chartCentres);
  scene.points.set(from.points);
  scene.trackWeights.set(from.trackWeights);
}

/** A copy of the frames from..to-1 and of the tracks named. */
export function sceneWindow(whole: Scene, from: number, to: number, tracks: Int32Array): Scene {
  const part = blankScene(to - from, tracks.length);
  part.rotations.set(whole.rotations.subarray(9 * from, 9 * to));
  part.centres.set(whole.centres.subarray(3 * from, 3 * to));
  tracks.forEach((i, j) => copyTrack(whole, i, part, j));
  return part;
}

/** Puts the frames and tracks of a window back into the whole. */
export function writeBack(part: Scene, whole: Scene, from: number, tracks: Int32Array): void {
  whole.rotations.set(part.rotations, 9 * from);
  whole.centres.set(part.centres, 3 * from);
  tracks.forEach((i, j) => copyTrack(part, j, whole, i));
}

/** Copies track `i` of one scene to track `j` of another: chart, point and weight. */
export function copyTrack(source: Scene, i: number, target: Scene, j: number): void {
  for (let k = 0; k < 9; k++) target.chartRotations[9 * j + k] = source.chartRotations[9 * i + k];
  for (let k = 0; k < 3; k++) {
    target.chartCentres[3 * j + k] = source.chartCentres[3 * i + k];
    target.points[3 * j + k] = source.points[3 * i + k];
  }
  target.trackWeights[j] = source.trackWeights[i];
}

/** Makes the pose of frame t the chart of track i and puts the track there at image point (x, y) and inverse depth rho. */
export function placeTrack(scene: Scene, i: number, t: number, x: number, y: number, rho: number): void {
  for (let k = 0; k < 9; k++) scene.chartRotations[9 * i + k] = scene.rotations[9 * t + k];
  for (let k = 0; k < 3; k++) scene.chartCentres[3 * i + k] = scene.centres[3 * t + k];
  scene.points[3 * i] = x;
  scene.points[3 * i + 1] = y;
  scene.points[3 * i + 2] = rho;
}

/** Multiplies every length of the scene by `factor` (inverse depths divide). */
export function scaleScene(scene: Scene, factor: number): void {
  const { centres, chartCentres, points } = scene;
  for (let k = 0; k < centres.length; k++) centres[k] *= factor;
  for (let k = 0; k < chartCentres.length; k++) chartCentres[k] *= factor;
  for (let k = 2; k < points.length; k += 3) points[k] /= factor;
}

function setIdentity(matrix: Float64Array, offset: number): void {
  matrix[offset] = matrix[offset + 4] = matrix[offset + 8] = 1;
}
