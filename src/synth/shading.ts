/** Luminance of surfaces at viewing rays: texture times light, by stretches of a row or one ray at a time. */
import { PLANE_STRIDE } from './projected-surfaces.js';
import type { Surface } from './surface.js';
import { addTexture, lightAt } from './texture-sampling.js';

/** Pixels that share one level of sharpness; light is linear within them. */
const STRETCH_PX = 16;

/** Numbers of a surface that lead to its texels: texels along, down, first along, first down. */
const TEXEL_NUMBERS = 4;

/** Gives luminance for the surfaces of one scene. */
export interface Shader {
  /**
   * Writes luminance of surface `i` to luma[base + from .. base + to - 1]; those must be 0 before.
   * @param opacity takes the opacity of a cut-out at [from .. to - 1], 0 before, may pass 1; left out for a surface
   */
  shadeRun(
    i: number,
    from: number,
    to: number,
    luma: Float32Array,
    base: number,
    opacity?: Float32Array,
  ): void;
  /** Luminance of surface `i` at one ray. */
  shadeRay(i: number, rayX: number, rayY: number): number;
  /** What is seen at one ray of something of luminance `behind` through cut-out `i`. */
  shadeOver(i: number, rayX: number, rayY: number, behind: number): number;
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
  // Columns by surface: objects of many shapes would be slow to read for each pixel.
  const textures = surfaces.map(({ texture }) => texture);
  const opacities = surfaces.map(({ opacity }) => opacity ?? null);
  const lights = surfaces.map(({ light }) => light);
  const texels = new Float64Array(surfaces.length * TEXEL_NUMBERS);
  surfaces.forEach(({ texelsAlong, texelsDown, startU, startV }, i) =>
    texels.set([texelsAlong, texelsDown, startU, startV], i * TEXEL_NUMBERS),
  );
  const texelU = new Float64Array(STRETCH_PX);
  const texelV = new Float64Array(STRETCH_PX);
  const one = new Float32Array(1);
  /** Texels per pixel, along and down, set by `measure`. */
  let sizeU = 1;
  let sizeV = 1;

  /** Size of a pixel in texels, at rectangle coordinates (u, v) and depth 1/w. */
  function measure(i: number, u: number, v: number, depth: number): void {
    const at = i * PLANE_STRIDE;
    const scale = pixel * depth;
    const scaleAlong = scale * texels[i * TEXEL_NUMBERS];
    const scaleDown = scale * texels[i * TEXEL_NUMBERS + 1];
    const wx = planes[at + 6];
    const wy = planes[at + 7];
    const ux = (planes[at] - u * wx) * scaleAlong;
    const uy = (planes[at + 1] - u * wy) * scaleAlong;
    const vx = (planes[at + 3] - v * wx) * scaleDown;
    const vy = (planes[at + 4] - v * wy) * scaleDown;
    sizeU = Math.sqrt(ux * ux + uy * uy) + 1e-9;
    sizeV = Math.sqrt(vx * vx + vy * vy) + 1e-9;
  }

  const shadeRun: Shader['shadeRun'] = (i, from, to, luma, base, opacity) => {
    const texture = textures[i];
    const light = lights[i];
    const number = i * TEXEL_NUMBERS;
    const texelsAlong = texels[number];
    const texelsDown = texels[number + 1];
    const startU = texels[number + 2];
    const startV = texels[number + 3];
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
        if (k === middle) measure(i, u, v, depth);
      }
      addTexture(texture, n, texelU, texelV, sizeU, sizeV, luma, base + x);
      const opacityTexture = opacities[i];
      if (opacity && opacityTexture) addTexture(opacityTexture, n, texelU, texelV, sizeU, sizeV, opacity, x);
      const first = even ? light.values[0] : lightAt(light, firstU, firstV);
      const step = even || n === 1 ? 0 : (lightAt(light, u, v) - first) / (n - 1);
      for (let k = 0; k < n; k++) luma[base + x + k] *= first + k * step;
      x = end;
    }
  };

  /** Sets the texel of a ray in texelU[0], texelV[0] and its pixel size; gives the light there. */
  function locate(i: number, rx: number, ry: number): number {
    const at = i * PLANE_STRIDE;
    const number = i * TEXEL_NUMBERS;
    const depth = 1 / (planes[at + 6] * rx + planes[at + 7] * ry + planes[at + 8]);
    const u = (planes[at] * rx + planes[at + 1] * ry + planes[at + 2]) * depth;
    const v = (planes[at + 3] * rx + planes[at + 4] * ry + planes[at + 5]) * depth;
    texelU[0] = texels[number + 2] + u * texels[number];
    texelV[0] = texels[number + 3] + v * texels[number + 1];
    measure(i, u, v, depth);
    return lightAt(lights[i], u, v);
  }

  return {
    shadeRun,
    shadeRay(i, rx, ry) {
      const light = locate(i, rx, ry);
      one[0] = 0;
      addTexture(textures[i], 1, texelU, texelV, sizeU, sizeV, one, 0);
      return one[0] * light;
    },
    shadeOver(i, rx, ry, behind) {
      const light = locate(i, rx, ry);
      const opacityTexture = opacities[i];
      one[0] = 0;
      if (opacityTexture) addTexture(opacityTexture, 1, texelU, texelV, sizeU, sizeV, one, 0);
      const opacity = Math.min(1, one[0]);
      if (opacity <= 0) return behind;
      one[0] = 0;
      addTexture(textures[i], 1, texelU, texelV, sizeU, sizeV, one, 0);
      return behind * (1 - opacity) + one[0] * light;
    },
  };
}
