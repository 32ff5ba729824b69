/**
 * A made-up clip filmed off once more with each frame drawn anew, as a lens or a camera does that changes its picture: zoomed, slid or
 * turned. Kept beside the clips that it is made from.
 */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { decodeGrey, encodeClip, findTools, probeClip } from '../../src/footage/index.js';
import { cameraOf, type SynthTruth } from '../../src/synth/index.js';
import { GRID_STEP_PX, PlaneResampler } from '../../src/vision/index.js';
import type { MadeUpClip } from './made-up-clip.js';

/** Where a point of the new picture of frame t lies in the old one; both over the focal length, 0 on the optical axis. */
export type Warp = (t: number, x: number, y: number) => readonly [number, number];

/**
 * Draws a clip anew.
 *
 * @param name tells this warp from others: with the name of the clip it makes the name of the file
 */
export async function warpedClip(
  { clipFile, truth }: Pick<MadeUpClip, 'clipFile' | 'truth'>,
  name: string,
  makeWarp: (truth: SynthTruth) => Warp,
): Promise<string> {
  const key = createHash('sha256').update(makeWarp.toString()).digest('hex').slice(0, 8);
  const file = clipFile.replace(/\.mp4$/, `-${name}-${key}.mp4`);
  if (fs.existsSync(file)) return file;
  const tools = await findTools();
  const facts = await probeClip(clipFile, tools);
  const { widthPx, heightPx, fps } = facts;
  const { focalPx, centreXPx, centreYPx } = cameraOf(truth.settings);
  const warp = makeWarp(truth);
  const resampler = new PlaneResampler({ widthPx, heightPx }, { widthPx, heightPx });
  const { columns, rows } = resampler.grid;
  const xPx = new Float64Array(columns * rows);
  const yPx = new Float64Array(columns * rows);
  async function* drawn(): AsyncGenerator<Uint8Array> {
    let t = 0;
    const reading = { analysisWidthPx: widthPx, stretchContrast: 'off' as const };
    for await (const { grey } of decodeGrey(clipFile, facts, reading, tools)) {
      for (let r = 0; r < rows; r++)
        for (let c = 0; c < columns; c++) {
          const [x, y] = warp(
            t,
            (c * GRID_STEP_PX - centreXPx) / focalPx,
            (r * GRID_STEP_PX - centreYPx) / focalPx,
          );
          xPx[columns * r + c] = centreXPx + focalPx * x;
          yPx[columns * r + c] = centreYPx + focalPx * y;
        }
      const picture = new Uint8Array(widthPx * heightPx);
      resampler.resample(Uint8Array.from(grey), { xPx, yPx }, picture, 255);
      yield picture;
      t++;
    }
  }
  await encodeClip(path.resolve(file), { widthPx, heightPx, fps, crf: 14 }, drawn(), tools);
  return file;
}
