/**
 * Pyramidal Lucas-Kanade: where points of one grey picture lie in the next, in pixels
 * (Lucas and Kanade, IJCAI 1981; pyramid after Bouguet, "Pyramidal implementation of the Lucas Kanade feature tracker", 2000).
 */
import type { Engine, Mat } from './engine.js';
import type { Keep } from './scope.js';
import { LUCAS_KANADE_DEFAULTS, type FoundPoints, type LucasKanadeOptions, type Points } from './types.js';

/** Windows whose smaller eigenvalue per pixel is below this hold no texture: about 0.3 grey levels per pixel. */
export const MIN_EIGENVALUE = 1e-4;

/** Stop at the iteration limit or at the step limit, whichever comes first. */
const EITHER_LIMIT = 3;

/** Fills in the defaults. @throws RangeError when the window is not odd */
export function resolveLucasKanade(options: LucasKanadeOptions): Required<Omit<LucasKanadeOptions, 'start'>> {
  const resolved = { ...LUCAS_KANADE_DEFAULTS, ...options };
  const { windowPx } = resolved;
  if (!Number.isInteger(windowPx) || windowPx < 3 || windowPx % 2 === 0) {
    throw new RangeError(`windowPx: expected an odd whole number from 3, got ${windowPx}`);
  }
  return resolved;
}

/** One direction of tracking between two pictures in the engine's memory; see Vision.pyramidalLucasKanade. */
export function lucasKanade(
  engine: Engine,
  keep: Keep,
  previous: Mat,
  next: Mat,
  points: Points,
  options: LucasKanadeOptions,
): FoundPoints {
  const { windowPx, levels, iterations, epsilonPx } = resolveLucasKanade(options);
  const count = points.xPx.length;
  if (count === 0) return { xPx: new Float32Array(), yPx: new Float32Array(), found: new Uint8Array() };
  const from = keep(pointMat(engine, points));
  const to = keep(options.start ? pointMat(engine, options.start) : new engine.Mat());
  const status = keep(new engine.Mat());
  const error = keep(new engine.Mat());
  engine.calcOpticalFlowPyrLK(
    previous,
    next,
    from,
    to,
    status,
    error,
    new engine.Size(windowPx, windowPx),
    levels,
    new engine.TermCriteria(EITHER_LIMIT, iterations, epsilonPx),
    options.start ? engine.OPTFLOW_USE_INITIAL_FLOW : 0,
    MIN_EIGENVALUE,
  );
  const found = status.data.slice(0, count);
  const flat = to.data32F;
  const xPx = new Float32Array(count);
  const yPx = new Float32Array(count);
  for (let i = 0; i < count; i++) {
    xPx[i] = flat[2 * i];
    yPx[i] = flat[2 * i + 1];
  }
  return { xPx, yPx, found };
}

/** Points as the engine wants them: x and y interleaved in one column. */
function pointMat(engine: Engine, points: Points): Mat {
  const count = points.xPx.length;
  if (points.yPx.length !== count) throw new RangeError(`points: ${count} x but ${points.yPx.length} y`);
  const mat = new engine.Mat(count, 1, engine.CV_32FC2);
  const flat = mat.data32F;
  for (let i = 0; i < count; i++) {
    flat[2 * i] = points.xPx[i];
    flat[2 * i + 1] = points.yPx[i];
  }
  return mat;
}
