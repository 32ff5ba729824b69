/** Everything a report is made from, made up: run, motion, warps and a picture of a tiled corridor. */
import type { Camera } from '../../../src/optics/index.js';
import { storeMotion } from '../../../src/motion/index.js';
import type { Motion } from '../../../src/motion/types.js';
import { SERIES_SCHEMA, type RunDocument, type RunSeries } from '../../../src/run/index.js';
import type { ReportBundle, RgbPicture } from '../../../src/report/index.js';
import { JOINT_AT_S, madeUpMotion } from './made-up-motion.js';
import { madeUpRun, type Change } from './made-up-run.js';

const CAMERA: Camera = {
  widthPx: 960,
  heightPx: 540,
  focalPx: 1350,
  centreXPx: 479.5,
  centreYPx: 269.5,
  distortion: null,
};

const drawn = new Map<string, Uint8Array>();

/** A corridor seen from low down: tiled floor, plain walls, a bright door at the end. Drawn once in each size; a copy for each caller. */
export function corridorPicture(widthPx = 960, heightPx = 540): RgbPicture {
  const size = `${widthPx} x ${heightPx}`;
  const rgb = drawn.get(size) ?? drawCorridor(widthPx, heightPx);
  drawn.set(size, rgb);
  return { widthPx, heightPx, rgb: rgb.slice() };
}

function drawCorridor(widthPx: number, heightPx: number): Uint8Array {
  const rgb = new Uint8Array(3 * widthPx * heightPx);
  const horizon = 0.45 * heightPx;
  for (let v = 0; v < heightPx; v++)
    for (let u = 0; u < widthPx; u++) {
      const x = (u - widthPx / 2) / widthPx;
      const y = (v - horizon) / widthPx;
      // Nearest of floor (0.9 m below), side walls (1.6 m), ceiling (1.9 m above), end wall (14 m).
      const depths = [y > 0 ? 0.9 / y : 1e9, 1.6 / Math.max(1e-9, Math.abs(x)), y < 0 ? -1.9 / y : 1e9, 14];
      const depth = Math.min(...depths);
      const plane = depths.indexOf(depth);
      const [across, along] = plane === 1 ? [y * depth, depth] : [x * depth, depth];
      const tile = (Math.floor(across / 0.6) + Math.floor(along / 0.6)) & 1;
      const joint =
        Math.abs(across / 0.6 - Math.round(across / 0.6)) < 0.02 ||
        Math.abs(along / 0.6 - Math.round(along / 0.6)) < 0.02;
      const base = [
        [120, 112, 100],
        [150, 152, 148],
        [176, 176, 172],
        [214, 206, 186],
      ][plane];
      const light = 0.45 + 0.75 * Math.exp(-((depth - 5) ** 2) / 30);
      const shade = plane === 0 ? (joint ? 0.55 : tile ? 1 : 0.86) : plane === 1 && joint ? 0.9 : 1;
      for (let c = 0; c < 3; c++)
        rgb[3 * (v * widthPx + u) + c] = Math.max(0, Math.min(255, base[c] * light * shade));
    }
  return rgb;
}

/** The series of the made-up run; its floor is not stored. */
export function madeUpSeries({ clip, createdAt, stabilise }: RunDocument, motion: Motion): RunSeries {
  return {
    schema: SERIES_SCHEMA,
    clipSha256: clip.sha256,
    createdAt,
    stabilise: { mode: stabilise.mode, smoothingS: null, takeS: stabilise.takeS, seed: 1 },
    motion: storeMotion(motion),
    floor: null,
    frame: null,
  };
}

/** The bundle of the made-up run. */
export function madeUpBundle(change?: Change, given?: Motion): ReportBundle {
  const run = madeUpRun(change, given);
  const motion = given ?? madeUpMotion();
  const { pan, tilt, roll } = motion.vibration;
  return {
    run,
    series: madeUpSeries(run, motion),
    motion,
    stabilisation: {
      timeS: motion.timeS,
      camera: CAMERA,
      corrections: { vibration: { pan, tilt, roll }, rows: null },
      zoom: run.stabilise.zoom,
      delivery: { widthPx: run.delivery.widthPx, heightPx: run.delivery.heightPx },
    },
    picture: corridorPicture(),
    pictureAtS: JOINT_AT_S + 0.08,
  };
}
