/** A stabilised clip followed and split like any other clip, with the lens that its window makes of the camera's. */
import { decodeGrey, findTools, probeClip } from '../../src/footage/index.js';
import { splitMotion, type Motion } from '../../src/motion/index.js';
import { cameraForFrame } from '../../src/optics/index.js';
import { trackFrames, type Tracking } from '../../src/tracking/index.js';
import type { Rig } from '../../src/run/index.js';
import { pictureMotion } from './picture-motion.js';

/** Picture motion above the split, in px of the clip, and how to get the six axes. */
export interface SecondLook {
  /** RMS over picture and frames, jitter taken off. */
  readonly rmsPx: number;
  /** Share of the picture that was seen. */
  readonly coverage: number;
  readonly motion: () => Motion;
}

/** Follows a clip. @param cutoffHz where the intended move ends */
export async function lookAgain(file: string, rig: Rig, cutoffHz: number): Promise<SecondLook> {
  const tools = await findTools();
  const facts = await probeClip(file, tools);
  const tracking: Tracking = await trackFrames(decodeGrey(file, facts, {}, tools), { threads: 1 });
  const { table, noisePx, interCoded } = tracking;
  const { rmsPx, coverage } = pictureMotion(table, facts.fps, cutoffHz, noisePx ?? NaN);
  return {
    rmsPx: (rmsPx * facts.widthPx) / table.widthPx,
    coverage,
    motion: () =>
      splitMotion(table, cameraForFrame(rig, facts, table).camera, {
        cutoffHz,
        travelM: rig.travelM,
        readoutS: (rig.readoutMs ?? 0) / 1000,
        distortionGiven: true,
        interCoded,
        sourceWidthPx: facts.widthPx,
        trackNoisePx: noisePx,
      }),
  };
}
