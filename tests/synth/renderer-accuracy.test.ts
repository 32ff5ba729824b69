import { describe, expect, it } from 'vitest';
import { projectPoint, rotationFromAngles, type Camera } from '../../src/optics/index.js';
import {
  MEASURING_WALL_M,
  buildScene,
  cameraOf,
  makeCameraPath,
  renderFrame,
  resolveSynthOptions,
  type Pose,
} from '../../src/synth/index.js';
import { createRenderer } from '../../src/synth/renderer.js';
import { evenLight, tint, type Scene, type Surface, type Vec3 } from '../../src/synth/surface.js';
import { makeTexture } from '../../src/synth/texture.js';
import { expectWithin } from '../support/expect-within.js';
import { pictureShift, type Area } from './picture-shift.js';

const LEVEL = [1, 0, 0, 0, 1, 0, 0, 0, 1];
const [W, H] = [480, 270];

function wall() {
  const options = resolveSynthOptions({ scene: 'measuring-wall', widthPx: W, heightPx: H, move: 'static' });
  return { scene: buildScene(options, makeCameraPath(options)), camera: cameraOf(options) };
}

const at = (x: number, y = 0, z = 0, rotation: ArrayLike<number> = LEVEL): Pose => ({
  rotation,
  centre: [x, y, z],
});
const whole: Area = { x0: 8, x1: W - 8, y0: 8, y1: H - 8 };
const middle: Area = { x0: W / 2 - 60, x1: W / 2 + 60, y0: H / 2 - 45, y1: H / 2 + 45 };

/** Ten per cent of the shift: a twentieth of the tracking noise of a good clip. */
const SHIFT = { abs: 0.005, why: 'a tenth of the shift that was made' };

function plainSurface(origin: Vec3, along: Vec3, down: Vec3, value: number): Surface {
  return {
    origin,
    along,
    down,
    texture: makeTexture(new Float32Array(4).fill(1), 1, 1, false),
    texelsAlong: 2,
    texelsDown: 2,
    startU: 0,
    startV: 0,
    tint: tint(1, 1, 1),
    light: evenLight(value),
    opacity: null,
    oneSided: false,
    placeAt: null,
  };
}

function smallCamera(widthPx: number, heightPx: number, focalPx: number, k1 = 0): Camera {
  return {
    widthPx,
    heightPx,
    focalPx,
    centreXPx: (widthPx - 1) / 2,
    centreYPx: (heightPx - 1) / 2,
    distortion: k1 === 0 ? null : { k1, k2: 0, p1: 0, p2: 0, k3: 0 },
  };
}

describe('sub-pixel exactness of rendered pictures', () => {
  const { scene, camera } = wall();
  const metrePerPx = MEASURING_WALL_M / camera.focalPx;

  it.each([0, 0.13, 0.37, 0.5, 0.77])(
    'shows a move of 0.05 px as 0.05 px, started %d px off the grid',
    (start) => {
      const a = renderFrame(scene, at(start * metrePerPx), camera).grey;
      const b = renderFrame(scene, at((start + 0.05) * metrePerPx), camera).grey;
      const shift = pictureShift(a, b, W, whole);
      expectWithin(shift.xPx, -0.05, SHIFT);
      expectWithin(shift.yPx, 0, SHIFT);
    },
  );

  it.each([0, 0.29, 0.61])('shows a pan of 0.05 px as 0.05 px, started %d px off the grid', (start) => {
    const pan = (px: number) => rotationFromAngles(px / camera.focalPx, 0, 0);
    const a = renderFrame(scene, at(0, 0, 0, pan(start)), camera).grey;
    const b = renderFrame(scene, at(0, 0, 0, pan(start + 0.05)), camera).grey;
    expectWithin(pictureShift(a, b, W, middle).xPx, -0.05, SHIFT);
  });

  it('shows a rise of 0.05 px as 0.05 px down', () => {
    const a = renderFrame(scene, at(0), camera).grey;
    const b = renderFrame(scene, at(0, -0.05 * metrePerPx), camera).grey;
    expectWithin(pictureShift(a, b, W, whole).yPx, 0.05, SHIFT);
  });

  it('gives the same picture for the same pose, bit by bit', () => {
    const pose = at(0.01, 0.02, 0.03, rotationFromAngles(0.01, 0.02, 0.03));
    expect(renderFrame(scene, pose, camera).grey).toEqual(renderFrame(scene, pose, camera).grey);
  });

  it('keeps the mean grey of a surface at any distance', () => {
    const mean = (z: number) => {
      const { grey } = renderFrame(scene, at(0, 0, z), camera, { softnessPx: 0 });
      return grey.reduce((sum, value) => sum + value, 0) / grey.length;
    };
    // One picture shows another part of the wall than the other; its patches differ by a few levels.
    expectWithin(mean(-3), mean(0), { abs: 6, why: 'patches of the wall differ by a few grey levels' });
  });
});

describe('edges', () => {
  const camera = smallCamera(64, 64, 200);
  const far = plainSurface([-9, -9, 4], [18, 0, 0], [0, 18, 0], 0.2);

  /** Where the edge of a bright plate that starts at `edgePx` shows, from the light in each row. */
  function edgeSeen(edgePx: number): number {
    const x = (edgePx - camera.centreXPx) / camera.focalPx;
    const plate = plainSurface([2 * x, -9, 2], [9, 0, 0], [0, 18, 0], 0.8);
    const { grey } = renderFrame({ surfaces: [far, plate], cutouts: [] }, at(0), camera, { softnessPx: 0 });
    let dark = 0;
    for (let i = 0; i < grey.length; i++) dark += (0.8 * 255 - grey[i]) / (0.6 * 255);
    return dark / camera.heightPx - 0.5;
  }

  it('move with the camera in steps far below a pixel', () => {
    for (let step = 0; step <= 40; step++) {
      const edgePx = 31 + step / 40;
      expectWithin(edgeSeen(edgePx), edgePx, {
        abs: 0.01,
        why: '16 places in a pixel, shifted along the edge',
      });
    }
  });

  it('never move backwards', () => {
    const seen = Array.from({ length: 60 }, (_, step) => edgeSeen(30 + step / 30));
    for (let i = 1; i < seen.length; i++) expect(seen[i]).toBeGreaterThanOrEqual(seen[i - 1] - 1e-9);
  });
});

describe('what hides what', () => {
  const camera = smallCamera(160, 120, 120);
  const shownAt = (scene: Scene, x: number, y: number): number => {
    const picture = createRenderer(scene, camera).draw({ poseAt: () => at(0), timeS: 0, readoutS: 0 });
    return picture.shown[y * camera.widthPx + x];
  };
  const far = plainSurface([-9, -9, 6], [18, 0, 0], [0, 18, 0], 0.2);
  const near = plainSurface([-0.3, -0.3, 2], [0.6, 0, 0], [0, 0.6, 0], 0.8);

  it('is decided by depth, not by the order in the scene', () => {
    for (const surfaces of [
      [far, near],
      [near, far],
    ]) {
      expect(surfaces[shownAt({ surfaces, cutouts: [] }, 80, 60)]).toBe(near);
      expect(surfaces[shownAt({ surfaces, cutouts: [] }, 5, 60)]).toBe(far);
    }
  });

  it('lets planes run through each other', () => {
    const leaning = plainSurface([-9, -9, 4], [18, 0, 4], [0, 18, 0], 0.5);
    const plane = plainSurface([-9, -9, 6], [18, 0, 0], [0, 18, 0], 0.2);
    const scene = { surfaces: [plane, leaning], cutouts: [] };
    expect(shownAt(scene, 20, 60)).toBe(1);
    expect(shownAt(scene, 140, 60)).toBe(0);
  });

  it('leaves out what is behind the camera', () => {
    const behind = plainSurface([-1, -1, -2], [2, 0, 0], [0, 2, 0], 0.9);
    expect(shownAt({ surfaces: [far, behind], cutouts: [] }, 80, 60)).toBe(0);
  });
});

describe('lens and readout', () => {
  it('bends the picture as the lens model says', () => {
    const camera = smallCamera(320, 180, 250, -0.12);
    for (const [x, y] of [
      [0.5, 0.25],
      [-0.55, -0.3],
      [0.02, 0.3],
    ] as const) {
      const half = 0.012;
      const spot = plainSurface([2 * (x - half), 2 * (y - half), 2], [4 * half, 0, 0], [0, 4 * half, 0], 1);
      const { grey } = renderFrame({ surfaces: [spot], cutouts: [] }, at(0), camera, { softnessPx: 0 });
      let sum = 0;
      let sumX = 0;
      let sumY = 0;
      grey.forEach((value, i) => {
        sum += value;
        sumX += value * (i % camera.widthPx);
        sumY += value * Math.floor(i / camera.widthPx);
      });
      const expected = projectPoint(camera, 2 * x, 2 * y, 2)!;
      const spotSize = { abs: 0.03, why: 'a bent spot of 6 px is not quite centred on its middle' };
      expectWithin(sumX / sum, expected.xPx, spotSize);
      expectWithin(sumY / sum, expected.yPx, spotSize);
    }
  });

  it('reads rows one after another: a pan shears the picture by speed times row time', () => {
    const { scene, camera } = wall();
    const readoutS = 0.02;
    const pxPerS = 20;
    const poseAt = (timeS: number) =>
      at(0, 0, 0, rotationFromAngles((pxPerS * timeS) / camera.focalPx, 0, 0));
    const renderer = createRenderer(scene, camera);
    const still = renderer.draw({ poseAt, timeS: 0, readoutS: 0 }).luma;
    const rolling = renderer.draw({ poseAt, timeS: 0, readoutS }).luma;
    for (const row of [40, 135, 230]) {
      const area: Area = { x0: 180, x1: 300, y0: row - 20, y1: row + 20 };
      const timeS = ((row - 0.5 - (H - 1) / 2) / H) * readoutS;
      expectWithin(pictureShift(still, rolling, W, area).xPx, -pxPerS * timeS, {
        abs: 0.01,
        why: 'gradients of a small strip',
      });
    }
  });
});
