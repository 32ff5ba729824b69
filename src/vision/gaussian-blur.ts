/** Gaussian blur of a grey picture, sigma in pixels, borders mirrored about the edge pixel. */
import type { Engine, Mat } from './engine.js';
import type { Keep } from './scope.js';

/**
 * Blurs in floating point and rounds once; `target` may be `source`.
 * @param levels receives the blurred picture before it is rounded, when given
 */
export function blurInto(
  engine: Engine,
  keep: Keep,
  source: Mat,
  target: Mat,
  sigmaPx: number,
  levels?: Float32Array,
): void {
  const float = keep(new engine.Mat());
  source.convertTo(float, engine.CV_32F);
  // A kernel of three sigma to each side holds 99.7 % of the weight; the engine renormalises the rest away.
  const side = 2 * Math.ceil(3 * sigmaPx) + 1;
  engine.GaussianBlur(float, float, new engine.Size(side, side), sigmaPx, sigmaPx, engine.BORDER_REFLECT_101);
  levels?.set(float.data32F);
  float.convertTo(target, engine.CV_8UC1);
}
