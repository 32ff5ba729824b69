/**
 * Where the scene says each track should appear, how far off the observation is, and how that changes with the
 * track; normalised image units (pixels over focal length).
 *
 *   Y = R (A^T (a, b, 1) + rho (c - C)),   (px, py) = (Y1 / Y3, Y2 / Y3),   q = rho / Y3 = inverse depth seen from the frame
 *
 * By the frame's turn w and displacement d (camera axes) the point moves by (Longuet-Higgins & Prazdny 1980):
 *   J_frame = [ -px py      1 + px^2   -py  |  -q   0   q px ]
 *             [ -(1+py^2)   px py       px  |   0  -q   q py ]
 * By the track it moves by J_track = (1/Y3) [1 0 -px; 0 1 -py] [ R A^T e1, R A^T e2, R (c - C) ].
 */
import type { Observations } from './observations.js';
import type { Scene } from './scene.js';

/** Points nearer to the camera plane than this (in the homogeneous Y3, 1 at the chart) are no use and get no weight. */
const NEAREST_Y3 = 0.02;

/** The model at the present scene, one entry per observation. */
export interface Linearisation {
  /** Observed minus projected. */
  readonly residualX: Float64Array;
  readonly residualY: Float64Array;
  /** Projected point and inverse depth seen from the frame: all that J_frame needs. */
  readonly projectedX: Float64Array;
  readonly projectedY: Float64Array;
  readonly inverseDepth: Float64Array;
  /** J_track, 6 per observation: the x row, then the y row. */
  readonly trackJacobian: Float64Array;
  /** 1 where the track lies in front of the camera, else 0. */
  readonly inFront: Uint8Array;
}

/** Room for the linearisation of `count` observations. */
export function makeLinearisation(count: number): Linearisation {
  return {
    residualX: new Float64Array(count),
    residualY: new Float64Array(count),
    projectedX: new Float64Array(count),
    projectedY: new Float64Array(count),
    inverseDepth: new Float64Array(count),
    trackJacobian: new Float64Array(6 * count),
    inFront: new Uint8Array(count),
  };
}

/** Projects every observation's track into its frame and fills `out`. */
export function linearise(obs: Observations, scene: Scene, out: Linearisation): void {
  const { trackCount, trackStart, frame, x, y } = obs;
  const { rotations, centres, chartRotations, chartCentres, points } = scene;
  const { residualX, residualY, projectedX, projectedY, inverseDepth, trackJacobian, inFront } = out;
  for (let i = 0; i < trackCount; i++) {
    // The rows of A are the chart's axes in the world; (dx, dy, dz) is the bearing in the world.
    const a = points[3 * i];
    const b = points[3 * i + 1];
    const rho = points[3 * i + 2];
    const k = 9 * i;
    const ux = chartRotations[k];
    const uy = chartRotations[k + 1];
    const uz = chartRotations[k + 2];
    const vx = chartRotations[k + 3];
    const vy = chartRotations[k + 4];
    const vz = chartRotations[k + 5];
    const dx = a * ux + b * vx + chartRotations[k + 6];
    const dy = a * uy + b * vy + chartRotations[k + 7];
    const dz = a * uz + b * vz + chartRotations[k + 8];
    const cx = chartCentres[3 * i];
    const cy = chartCentres[3 * i + 1];
    const cz = chartCentres[3 * i + 2];
    const end = trackStart[i + 1];
    for (let o = trackStart[i]; o < end; o++) {
      const t = frame[o];
      const r = 9 * t;
      const r0 = rotations[r];
      const r1 = rotations[r + 1];
      const r2 = rotations[r + 2];
      const r3 = rotations[r + 3];
      const r4 = rotations[r + 4];
      const r5 = rotations[r + 5];
      const r6 = rotations[r + 6];
      const r7 = rotations[r + 7];
      const r8 = rotations[r + 8];
      // The baseline c - C seen from the frame, then the homogeneous point Y.
      const sx = cx - centres[3 * t];
      const sy = cy - centres[3 * t + 1];
      const sz = cz - centres[3 * t + 2];
      const bx = r0 * sx + r1 * sy + r2 * sz;
      const by = r3 * sx + r4 * sy + r5 * sz;
      const bz = r6 * sx + r7 * sy + r8 * sz;
      const y1 = r0 * dx + r1 * dy + r2 * dz + rho * bx;
      const y2 = r3 * dx + r4 * dy + r5 * dz + rho * by;
      const y3 = r6 * dx + r7 * dy + r8 * dz + rho * bz;
      const ahead = y3 > NEAREST_Y3;
      const inverse = 1 / (ahead ? y3 : NEAREST_Y3);
      const px = y1 * inverse;
      const py = y2 * inverse;
      residualX[o] = x[o] - px;
      residualY[o] = y[o] - py;
      projectedX[o] = px;
      projectedY[o] = py;
      inverseDepth[o] = rho * inverse;
      inFront[o] = ahead ? 1 : 0;
      // J_track: the chart's two side axes and the baseline, seen from the frame.
      const az = r6 * ux + r7 * uy + r8 * uz;
      const ez = r6 * vx + r7 * vy + r8 * vz;
      const j = 6 * o;
      trackJacobian[j] = inverse * (r0 * ux + r1 * uy + r2 * uz - px * az);
      trackJacobian[j + 1] = inverse * (r0 * vx + r1 * vy + r2 * vz - px * ez);
      trackJacobian[j + 2] = inverse * (bx - px * bz);
      trackJacobian[j + 3] = inverse * (r3 * ux + r4 * uy + r5 * uz - py * az);
      trackJacobian[j + 4] = inverse * (r3 * vx + r4 * vy + r5 * vz - py * ez);
      trackJacobian[j + 5] = inverse * (by - py * bz);
    }
  }
}

/** Writes the two rows of J_frame for a point at (px, py) of inverse depth q. */
export function frameJacobian(
  px: number,
  py: number,
  q: number,
  rowX: Float64Array,
  rowY: Float64Array,
): void {
  rowX[0] = -px * py;
  rowX[1] = 1 + px * px;
  rowX[2] = -py;
  rowX[3] = -q;
  rowX[4] = 0;
  rowX[5] = q * px;
  rowY[0] = -1 - py * py;
  rowY[1] = px * py;
  rowY[2] = px;
  rowY[3] = 0;
  rowY[4] = -q;
  rowY[5] = q * py;
}
