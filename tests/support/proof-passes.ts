/**
 * Made-up passes that are measured, rendered stabilised and looked at again: a sensor read row by row, a lens that bends
 * lines, an upright delivery of a path that follows much of the shake.
 */
import fs from 'node:fs';
import path from 'node:path';
import { findTools, probeClip } from '../../src/footage/index.js';
import { measure, type Measured } from '../../src/measure.js';
import type { PictureSize } from '../../src/optics/index.js';
import { renderProof, type ProofRecord } from '../../src/proof/index.js';
import { parseRigFile, type Delivery, type Rig } from '../../src/run/index.js';
import type { Pass } from './accuracy.js';
import { madeUpClip, type MadeUpClip } from './made-up-clip.js';

/** A pass, for whom it is made, and how it is to be stabilised. */
export interface ProofPass {
  readonly pass: Pass;
  readonly delivery: Delivery;
  /** That of the split unless given, seconds. */
  readonly smoothingS?: number;
}

/** A pass that was measured, and its stabilised clip. */
export interface ProvedPass {
  readonly clip: MadeUpClip;
  readonly rig: Rig;
  readonly measured: Measured;
  readonly record: ProofRecord;
  /** What a crew would write down of the camera that "filmed" the stabilised clip. */
  readonly stabilisedRig: Rig;
}

const COMMON = { durationS: 4, fps: 25, speedMps: 0.2 } as const;
const SMALL = { widthPx: 768, heightPx: 432 } as const;
/** An upright picture is cut out of it. */
const LARGE = { widthPx: 960, heightPx: 540 } as const;

/** Around a point, for a wide screen: rows of the sensor are read over 15 ms, and turn apart. */
export const ARC_BY_ROWS: ProofPass = {
  pass: {
    ...COMMON,
    ...SMALL,
    name: 'proof-arc-rows',
    move: 'arc',
    focalLengthMm: 35,
    readoutMs: 15,
    seed: 61,
    vibration: {
      angularDegRms: { pan: 0.06, tilt: 0.08, roll: 0.05 },
      translationMmRms: { lateral: 1, vertical: 1.5, axial: 1 },
      bandHz: [1.5, 9],
    },
  },
  delivery: { widthPx: 1920, heightPx: 800 },
};

/** Past a rail close to the lens, on a wide lens with barrel distortion. */
export const WIDE_PAST_RAIL: ProofPass = {
  pass: {
    ...COMMON,
    ...SMALL,
    name: 'proof-wide-rail',
    scene: 'aluminium-rail',
    move: 'lateral',
    focalLengthMm: 24,
    lensK1: -0.1,
    seed: 62,
    vibration: {
      angularDegRms: { pan: 0.08, tilt: 0.06, roll: 0.06 },
      translationMmRms: { lateral: 1.2, vertical: 1.2, axial: 2 },
      bandHz: [1.5, 9],
    },
  },
  delivery: { widthPx: 1920, heightPx: 1080 },
};

/** Towards the end of a corridor, for an upright picture; most of what is left is shake that the path follows. */
export const PUSH_IN_FOLLOWED: ProofPass = {
  pass: {
    ...COMMON,
    ...LARGE,
    name: 'proof-push-in',
    scene: 'tiled-corridor',
    move: 'pushIn',
    focalLengthMm: 35,
    seed: 63,
    vibration: {
      angularDegRms: { pan: 0.12, tilt: 0.12, roll: 0.1 },
      translationMmRms: { lateral: 0.5, vertical: 0.5, axial: 0.5 },
      bandHz: [1.5, 5],
    },
  },
  delivery: { widthPx: 1080, heightPx: 1920 },
  smoothingS: 0.3,
};

/** All of them. */
export const PROOF_PASSES: readonly ProofPass[] = [ARC_BY_ROWS, WIDE_PAST_RAIL, PUSH_IN_FOLLOWED];

/** Films (or takes from the cache), measures and renders a pass into `folder`, as `prove` does, the stabilised picture alone. */
export async function provePass(
  { pass, delivery, smoothingS }: ProofPass,
  folder: string,
): Promise<ProvedPass> {
  const clip = await madeUpClip(pass);
  const { rig } = parseRigFile(fs.readFileSync(clip.rigFile, 'utf8'), clip.rigFile);
  const tools = await findTools();
  const measured = await measure(
    { clip: clip.clipFile, rig, delivery, stabilise: { smoothingS } },
    { threads: 1, tools },
  );
  const { motion, stabilisation: plan } = measured;
  const { widthPx, heightPx } = plan.delivery;
  const record = await renderProof(
    {
      clip: clip.clipFile,
      facts: await probeClip(clip.clipFile, tools),
      range: { inS: 0, outS: Infinity },
      timeS: motion.timeS,
      corrections: plan.corrections,
      camera: motion.camera,
      window: { kind: 'centred', zoom: plan.zoom },
      shape: heightPx / widthPx,
      file: path.join(folder, `${pass.name}.mp4`),
      layout: 'alone',
      codec: 'h264',
    },
    { threads: 1, tools },
  );
  return { clip, rig, measured, record, stabilisedRig: rigOfStabilised(rig, measured, record) };
}

/** The part of the frame that the stabilised clip shows, px of the camera. */
export function shownWindow({ motion: { camera }, stabilisation: plan }: Measured): PictureSize {
  const shape = plan.delivery.heightPx / plan.delivery.widthPx;
  const widthPx = Math.min(camera.widthPx, camera.heightPx / shape) / plan.zoom;
  return { widthPx, heightPx: widthPx * shape };
}

/** The same lens behind the window that was cut; all rows of a frame belong to one moment now. */
function rigOfStabilised(rig: Rig, measured: Measured, { widthPx }: ProofRecord): Rig {
  // Pixels of focal length win over millimetres.
  const focalPx = (measured.motion.camera.focalPx * widthPx) / shownWindow(measured).widthPx;
  return { ...rig, focalPx, focalPxWidth: widthPx, readoutMs: 0 };
}
