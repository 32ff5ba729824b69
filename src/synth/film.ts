/** Films a pass frame by frame: one object that gives the bytes of any frame, in any order, always the same. */
import { focalPxFromMm, shutterTimeS, type Camera } from '../optics/index.js';
import { buildScene } from './build-scene.js';
import { makeCameraPath, type CameraPath } from './camera-path.js';
import { lightRows } from './causes/lamp-light.js';
import { colourBytes, greyBytes, toGreyLevels, type DevelopOptions } from './develop.js';
import { frameCountOf, type SynthOptions } from './options.js';
import type { Pose } from './projected-surfaces.js';
import { createRenderer, emptyPicture, type Renderer } from './renderer.js';
import type { LumaPicture } from './rows/row-painter.js';
import type { Scene } from './surface.js';

/** A pass that can be looked at frame by frame. */
export interface Film {
  readonly options: SynthOptions;
  readonly path: CameraPath;
  readonly camera: Camera;
  readonly frameCount: number;
  /** Bytes of a frame, grey or red-green-blue as the options say; a new array each time. */
  frame(index: number): Uint8Array;
}

/** The camera of a pass. */
export function cameraOf(options: SynthOptions): Camera {
  const { widthPx, heightPx, lensK1 } = options;
  return {
    widthPx,
    heightPx,
    focalPx: focalPxFromMm(options.focalLengthMm, options.sensorWidthMm, Math.max(widthPx, heightPx)),
    centreXPx: (widthPx - 1) / 2,
    centreYPx: (heightPx - 1) / 2,
    distortion: lensK1 === 0 ? null : { k1: lensK1, k2: 0, p1: 0, p2: 0, k3: 0 },
  };
}

/** Mean luminance over an exposure, in `picture`; the surfaces shown are those of its middle. `one` is scratch. */
function expose(
  renderer: Renderer,
  path: CameraPath,
  timeS: number,
  options: SynthOptions,
  picture: LumaPicture,
  one: LumaPicture,
): LumaPicture {
  const readoutS = options.readoutMs / 1000;
  const exposureS = shutterTimeS(options.shutterAngleDeg, options.fps);
  const samples = exposureS > 0 ? options.motionSamples : 1;
  const lit = (drawn: LumaPicture, atS: number, overS: number): LumaPicture => {
    if (options.lamps) lightRows(drawn.luma, drawn.widthPx, options.lamps, atS, overS, readoutS);
    return drawn;
  };
  if (samples === 1)
    return lit(renderer.draw({ poseAt: path.poseAt, timeS, readoutS }, picture), timeS, exposureS);
  const { luma } = picture;
  luma.fill(0);
  for (let s = 0; s < samples; s++) {
    const at = timeS + ((s + 0.5) / samples - 0.5) * exposureS;
    lit(renderer.draw({ poseAt: path.poseAt, timeS: at, readoutS }, one), at, exposureS / samples);
    for (let i = 0; i < luma.length; i++) luma[i] += one.luma[i] / samples;
    if (s === samples >> 1) picture.shown.set(one.shown);
  }
  return picture;
}

/** Sets up a pass: path, scene, renderer. */
export function startFilm(options: SynthOptions): Film {
  const path = makeCameraPath(options);
  const scene = buildScene(options, path);
  const camera = cameraOf(options);
  const renderer = createRenderer(scene, camera);
  const tints = [...scene.surfaces, ...scene.cutouts].map((surface) => surface.tint);
  const { widthPx, heightPx, seed } = options;
  const whole = emptyPicture(widthPx, heightPx);
  const one = options.shutterAngleDeg > 0 ? emptyPicture(widthPx, heightPx) : whole;
  return {
    options,
    path,
    camera,
    frameCount: frameCountOf(options),
    frame(index) {
      const picture = expose(renderer, path, path.timesS[index], options, whole, one);
      const levels = toGreyLevels(picture.luma, widthPx, heightPx, options, seed * 100_003 + index);
      return options.colour ? colourBytes(levels, picture, tints) : greyBytes(levels);
    },
  };
}

/** A picture for looking at and for measuring on. */
export interface RenderedFrame {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Grey levels 0..255, not rounded. */
  readonly grey: Float32Array;
  /** Red, green, blue bytes. */
  readonly rgb: Uint8Array;
}

const PLAIN: DevelopOptions = {
  softnessPx: 0.6,
  brightness: 1,
  contrast: 1,
  transfer: 'display',
  noiseGrey: 0,
};

/**
 * Draws one picture of a scene from one pose.
 *
 * @param pose world-to-camera rotation and centre in metres
 * @param develop light and lens; default: softness 0.6 px, no noise
 * @param timeS for scenes in which something moves
 */
export function renderFrame(
  scene: Scene,
  pose: Pose,
  camera: Camera,
  develop: Partial<DevelopOptions> = {},
  timeS = 0,
): RenderedFrame {
  const picture = createRenderer(scene, camera).draw({ poseAt: () => pose, timeS, readoutS: 0 });
  const { widthPx, heightPx } = camera;
  const grey = toGreyLevels(picture.luma, widthPx, heightPx, { ...PLAIN, ...develop }, 0);
  const tints = [...scene.surfaces, ...scene.cutouts].map((surface) => surface.tint);
  return { widthPx, heightPx, grey, rgb: colourBytes(grey, picture, tints) };
}
