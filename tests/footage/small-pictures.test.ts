import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  nearestFrames,
  posterPictures,
  probeClip,
  smallPictures,
  type ClipFacts,
  type TimedPicture,
} from '../../src/footage/index.js';
import { clipFolder, makeClip, testSource, tools } from './made-clips.js';

const folder = clipFolder();
let bars: ClipFacts;
const FRAME_S = 1 / 25;

beforeAll(async () => {
  // A key frame every 10 frames.
  const file = path.join(folder, 'bars.mp4');
  const source = testSource(160, 90, '25', 4);
  bars = await probeClip(await makeClip(file, ...source, '-g', '10', '-pix_fmt', 'yuv420p'), tools);
});

async function all<T>(items: AsyncIterable<T>): Promise<T[]> {
  const found: T[] = [];
  for await (const item of items) found.push(item);
  return found;
}

describe('the frame nearest in time', () => {
  const frames = [0, 0.04, 0.08, 0.2].map((timeS) => ({ timeS }));
  const picked = async (wantedS: number[]) =>
    (await all(nearestFrames(frames, wantedS))).map(({ frame }) => frame.timeS);

  it('is picked for each moment, the earlier of two equally near, the same one again where it is', async () => {
    expect(await picked([0.01, 0.06, 0.061, 0.09, 0.13, 0.15])).toEqual([0, 0.04, 0.08, 0.08, 0.08, 0.2]);
  });

  it('is the first before all and the last after all', async () => {
    expect(await picked([-1, 5, 6])).toEqual([0, 0.2, 0.2]);
    expect(await picked([])).toEqual([]);
    expect(await all(nearestFrames([], [1, 2]))).toEqual([]);
  });

  it('ends the reading once nothing is wanted any more', async () => {
    let taken = 0;
    function* counted() {
      for (const frame of frames) {
        taken++;
        yield frame;
      }
    }
    await all(nearestFrames(counted(), [0, 0.04]));
    expect(taken).toBe(3);
  });
});

describe('small pictures of a clip', () => {
  it('are those nearest to the moments, upright, no wider than asked for', async () => {
    const wantedS = [1.01, 1.07, 1.9, 3.99];
    const pictures = await all(smallPictures({ ...bars, rotationDeg: 90 }, wantedS, { widthPx: 64 }, tools));
    expect(pictures.map(({ timeS }) => Number(timeS.toFixed(3)))).toEqual([1, 1.08, 1.88, 3.96]);
    expect(pictures.map((one) => one.wantedS)).toEqual(wantedS);
    for (const { widthPx, heightPx, rgb } of pictures)
      expect([widthPx, heightPx, rgb.length]).toEqual([64, 36, 3 * 64 * 36]);
  });
});

describe('posters', () => {
  const stamps = (pictures: TimedPicture[]) => pictures.map(({ timeS }) => Number(timeS.toFixed(3)));

  it('of a short clip stand at even distances, the first and the last frame among them', async () => {
    const posters = stamps(await all(posterPictures(bars, 12, { widthPx: 64 }, tools)));
    expect(posters).toEqual(Array.from({ length: 12 }, (_, k) => Number((k * 9 * FRAME_S).toFixed(3))));
  });

  it('of a long clip are frames that a seek leads to, none twice, with the time stamps they have', async () => {
    // As large as a long clip, so that it is not decoded as a whole.
    const long = { ...bars, storedWidthPx: 1e7 };
    const posters = await all(posterPictures(long, 20, { widthPx: 64 }, tools));
    const keysS = Array.from({ length: 10 }, (_, k) => Number((0.4 * k).toFixed(3)));
    expect(stamps(posters)).toEqual(keysS);
    const [own] = await all(smallPictures(bars, [posters[4].timeS], { widthPx: 64 }, tools));
    expect(posters[4].rgb).toEqual(own.rgb);
  });

  it('of a clip of few frames are no more than those', async () => {
    const posters = await all(posterPictures({ ...bars, durationS: 0.2 }, 40, { widthPx: 64 }, tools));
    expect(stamps(posters)).toEqual([0, 0.04, 0.08, 0.12, 0.16]);
  });
});
