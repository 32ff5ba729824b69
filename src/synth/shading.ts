/** Luminance of surfaces at viewing rays: texture times light, by stretches of a row or one ray at a time. */
import { PLANE_STRIDE } from './projected-surfaces.js';
import type { Surface } from './surface.js';
import { addTexture, lightAt } from './texture-sampling.js';

/** Pixels that share one level of sharpness; light is linear within them. */
const STRETCH_PX = 16;

/** Gives luminance for the surfaces of one scene. */
export interface Shader {
  /** Writes luminance of surface `i` to luma[base + from .. base + to - 1]; those must be 0 before. */
  shadeRun(i: number, from: number, to: number, luma: Float32Array, base: number): void;
  /** Luminance of surface `i` at one ray. */
  shadeRay(i: number, rayX: number, rayY: number): number;
  /**
   * Draws cut-out `i` over luma[at] (left alone when luma is null) as seen at one ray.
   *
   * @returns its opacity there, 0..1
   */
  cutoutOver(i: number, rayX: number, rayY: number, luma: Float32Array | null, at: number): number;
}

/**
 * Makes the shader.
 *
 * @param planes plane table of the surfaces, filled before each use
 * @param rayX rays of the current row, refilled by the caller
 * @param pixel size of a pixel in normalised coordinates
 */
export function createShader(
  surfaces: readonly Surface[],
  planes: Float64Array,
  rayX: Float64Array,
  rayY: Float64Array,
  pixel: number,
): Shader {
  const texelU = new Float64Array(STRETCH_PX);
  const texelV = new Float64Array(STRETCH_PX);
  const one = new Float32Array(1);
  /** Texels per pixel, along and down, set by `measure`. */
  let sizeU = 1;
  let sizeV = 1;

  /** Size of a pixel in texels, at rectangle coordinates (u, v) and depth 1/w. */
  function measure(surface: Surface, at: number, u: number, v: number, depth: number): void {
    const scale = pixel * depth;
    const wx = planes[at + 6];
    const wy = planes[at + 7];
    const ux = (planes[at] - u * wx) * scale * surface.texelsAlong;
    const uy = (planes[at + 1] - u * wy) * scale * surface.texelsAlong;
    const vx = (planes[at + 3] - v * wx) * scale * surface.texelsDown;
    const vy = (planes[at + 4] - v * wy) * scale * surface.texelsDown;
    sizeU = Math.sqrt(ux * ux + uy * uy) + 1e-9;
    sizeV = Math.sqrt(vx * vx + vy * vy) + 1e-9;
  }

  function shadeRun(i: number, from: number, to: number, luma: Float32Array, base: number): void {
    const surface = surfaces[i];
    const { texture, texelsAlong, texelsDown, startU, startV, light } = surface;
    const at = i * PLANE_STRIDE;
    const ux = planes[at];
    const uy = planes[at + 1];
    const uc = planes[at + 2];
    const vx = planes[at + 3];
    const vy = planes[at + 4];
    const vc = planes[at + 5];
    const wx = planes[at + 6];
    const wy = planes[at + 7];
    const wc = planes[at + 8];
    const even = light.values.length === 1;
    let x = from;
    while (x < to) {
      // Stretches end at fixed columns, so that a pixel is treated alike whatever stands beside it.
      const end = Math.min(to, (Math.floor(x / STRETCH_PX) + 1) * STRETCH_PX);
      const n = end - x;
      const middle = n >> 1;
      let firstU = 0;
      let firstV = 0;
      let u = 0;
      let v = 0;
      for (let k = 0; k < n; k++) {
        const rx = rayX[x + k];
        const ry = rayY[x + k];
        const depth = 1 / (wx * rx + wy * ry + wc);
        u = (ux * rx + uy * ry + uc) * depth;
        v = (vx * rx + vy * ry + vc) * depth;
        texelU[k] = startU + u * texelsAlong;
        texelV[k] = startV + v * texelsDown;
        if (k === 0) {
          firstU = u;
          firstV = v;
        }
        if (k === middle) measure(surface, at, u, v, depth);
      }
      addTexture(texture, n, texelU, texelV, sizeU, sizeV, luma, base + x);
      const first = even ? light.values[0] : lightAt(light, firstU, firstV);
      const step = even || n === 1 ? 0 : (lightAt(light, u, v) - first) / (n - 1);
      for (let k = 0; k < n; k++) luma[base + x + k] *= first + k * step;
      x = end;
    }
  }

  /** Sets the texel of a ray in texelU[0], texelV[0] and its pixel size; gives the light there. */
  function locate(i: number, rx: number, ry: number): number {
    const surface = surfaces[i];
    const at = i * PLANE_STRIDE;
    const depth = 1 / (planes[at + 6] * rx + planes[at + 7] * ry + planes[at + 8]);
    const u = (planes[at] * rx + planes[at + 1] * ry + planes[at + 2]) * depth;
    const v = (planes[at + 3] * rx + planes[at + 4] * ry + planes[at + 5]) * depth;
    texelU[0] = surface.startU + u * surface.texelsAlong;
    texelV[0] = surface.startV + v * surface.texelsDown;
    measure(surface, at, u, v, depth);
    return lightAt(surface.light, u, v);
  }

  return {
    shadeRun,
    shadeRay(i, rx, ry) {
      const light = locate(i, rx, ry);
      one[0] = 0;
      addTexture(surfaces[i].texture, 1, texelU, texelV, sizeU, sizeV, one, 0);
      return one[0] * light;
    },
    cutoutOver(i, rx, ry, luma, at) {
      const surface = surfaces[i];
      const light = locate(i, rx, ry);
      one[0] = 0;
      if (surface.opacity) addTexture(surface.opacity, 1, texelU, texelV, sizeU, sizeV, one, 0);
      const opacity = Math.min(1, one[0]);
      if (opacity <= 0 || !luma) return opacity;
      one[0] = 0;
      addTexture(surface.texture, 1, texelU, texelV, sizeU, sizeV, one, 0);
      luma[at] = luma[at] * (1 - opacity) + one[0] * light;
      return opacity;
    },
  };
}
