/** The SIMD kernel beside the scalar engine (OpenCV.js, the general-purpose reference) on coded clips: the same points of the same frames. */
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { decodeGrey, findTools, probeClip } from '../../src/footage/index.js';
import { cornersInBucket } from '../../src/tracking/corners.js';
import { BUCKETS } from '../../src/tracking/buckets.js';
import { follow } from '../../src/tracking/follow.js';
import { scaleFor } from '../../src/tracking/options.js';
import { openPair, sharePictures, type PicturePair, type Points } from '../../src/vision/index.js';
import { expectWithin } from '../support/expect-within.js';

const FOLDER = path.resolve(import.meta.dirname, '../../sample-clips');
const CLIPS = fs.readdirSync(FOLDER).filter((name) => name.endsWith('.mp4'));
/** Of each clip: so many steps from frame to frame, after one another. */
const STEPS = 6;

/** Corners of the current picture, two a bucket, as they come. */
function corners(pair: PicturePair, widthPx: number): Points {
  const found = Array.from({ length: BUCKETS }, (_, bucket) =>
    cornersInBucket(pair, bucket, scaleFor(widthPx)),
  );
  const firstOf = (axis: 'xPx' | 'yPx'): Float32Array =>
    Float32Array.from(found.flatMap((one) => Array.from(one[axis].subarray(0, 2))));
  return { xPx: firstOf('xPx'), yPx: firstOf('yPx') };
}

describe('the SIMD kernel on coded clips', () => {
  it.each(CLIPS)('follows points to within 0.01 px of the scalar engine: %s', async (name) => {
    const file = path.join(FOLDER, name);
    const tools = await findTools();
    const facts = await probeClip(file, tools);
    let pairs: PicturePair[] | null = null;
    let points: Points | null = null;
    const distances: number[] = [];
    let disputed = 0;
    for await (const { grey, widthPx, heightPx, index } of decodeGrey(file, facts, {}, tools)) {
      if (index > STEPS) break;
      const scale = scaleFor(widthPx);
      const use = { ...scale, widthPx, heightPx, threads: 1 };
      pairs ??= [
        (await openPair(await sharePictures(use), 0)).pair,
        (await openPair(await sharePictures(use, true), 0)).pair,
      ];
      for (const pair of pairs) pair.push(grey);
      if (points) {
        const errand = { points, predicted: points, thorough: true };
        const [a, b] = pairs.map((pair) => follow(pair, errand, scale));
        for (let i = 0; i < points.xPx.length; i++) {
          if (a.kept[i] !== b.kept[i]) disputed += 1;
          else if (a.kept[i]) distances.push(Math.hypot(a.xPx[i] - b.xPx[i], a.yPx[i] - b.yPx[i]));
        }
      }
      points = corners(pairs[0], widthPx);
    }
    for (const pair of pairs ?? []) pair.close();
    expect(distances.length).toBeGreaterThan(1000);
    expectWithin(Math.max(...distances), 0, {
      abs: 0.01,
      why: 'single precision, and one step more or less at the end',
    });
    expect(disputed / distances.length, 'kept by one of the two only').toBeLessThan(0.001);
  });
});
