import fs from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sha256OfFile } from '../../../src/footage/index.js';
import { decodePicture } from '../../../src/report/index.js';
import type { RunDocument, RunSeries } from '../../../src/run/index.js';
import type { FramePack, Posters } from '../../../src/web/api.js';
import type { MeasuredRun } from '../../../src/web/clips/index.js';
import { keepWithin } from '../../../src/web/clips/keep-within.js';
import { PackWriter, readPackIndex } from '../../../src/web/clips/jpeg-pack.js';
import { makeClip, testSource } from '../../footage/made-clips.js';
import {
  CORRIDOR,
  filesBelow,
  good,
  openServer,
  refusal,
  temporaryFolder,
  type ClipServer,
} from './support/clip-server.js';

/** Of both clips: 25 frames/s. */
const FRAME_S = 0.04;
/** A frame is nearest within this, and a rounding of time stamps. */
const HALF_FRAME_S = FRAME_S / 2 + 1e-6;

let folder: string;
let server: ClipServer;
let clip: string;
/** 2 s of bars that move, 320 px wide. */
let bars: string;
/** Runs of the log by their numbers. */
const runs = new Map<number, MeasuredRun>();

beforeAll(async () => {
  folder = await temporaryFolder();
  const card = path.join(folder, 'card');
  await fs.mkdir(card);
  await fs.copyFile(CORRIDOR, path.join(card, 'corridor.mp4'));
  await makeClip(path.join(card, 'bars.mp4'), ...testSource(320, 180, '25', 2), '-pix_fmt', 'yuv420p');
  server = await openServer(folder, {}, { runOf: (id) => runs.get(id)! });
  const take = (name: string) => server.post('/clips/from-folder', { folder: 'card', path: name });
  clip = (await good(take('corridor.mp4'))).id;
  bars = (await good(take('bars.mp4'))).id;
  const sha256 = await sha256OfFile(CORRIDOR);
  // Half way between frames at first, so that "nearest" is put to the test; 1 s of the clip.
  runs.set(
    7,
    measured(
      sha256,
      Array.from({ length: 25 }, (_, k) => 2.013 + k * FRAME_S),
    ),
  );
  runs.set(8, measured('0'.repeat(64), [0, FRAME_S]));
});

afterAll(async () => {
  await server.close();
  await fs.rm(folder, { recursive: true, force: true });
});

function measured(sha256: string, timeS: number[]): MeasuredRun {
  const run = {
    clip: { sha256, file: 'corridor.mp4', rangeS: [timeS[0], timeS.at(-1)! + FRAME_S], fps: 25 },
  };
  return { run: run as unknown as RunDocument, series: { motion: { timeS } } as unknown as RunSeries };
}

async function jpegOf(answer: Promise<Response>) {
  const response = await answer;
  expect(response.status).toBe(200);
  expect(response.headers.get('Content-Type')).toBe('image/jpeg');
  expect(response.headers.get('Cache-Control')).toMatch(/^private, max-age=\d+, immutable$/);
  const jpeg = new Uint8Array(await response.arrayBuffer());
  return { jpeg, ...(await decodePicture(jpeg)) };
}

async function packOf(id: number): Promise<FramePack> {
  for (;;) {
    const pack = await good<FramePack>(server.ask(`/runs/${id}/frames`));
    if (pack.state !== 'making') return pack;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

/** Mean difference of two pictures of one size, levels of 8 bits. */
function difference(a: Uint8Array, b: Uint8Array): number {
  expect(a.length).toBe(b.length);
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += Math.abs(a[k] - b[k]);
  return sum / a.length;
}

describe('a frame of a clip', () => {
  const at = (atS: number, widthPx: number) =>
    jpegOf(server.ask(`/clips/${bars}/frame?at=${atS}&width=${widthPx}`));

  it('is the one shown then; beyond the end the last', async () => {
    const [early, late, last, beyond] = [
      await at(1, 200),
      await at(1.039, 200),
      await at(1.99, 200),
      await at(99, 200),
    ];
    expect([early.widthPx, early.heightPx]).toEqual([200, 112]);
    expect(difference(early.rgb, late.rgb)).toBe(0);
    expect(difference(beyond.rgb, last.rgb)).toBe(0);
    expect(difference(early.rgb, last.rgb)).toBeGreaterThan(0);
  });

  it('is 160 px wide at least and as wide as the clip at most', async () => {
    expect((await at(0, 1)).widthPx).toBe(160);
    expect((await at(0, 5000)).widthPx).toBe(320);
  });

  it.each(['at=-1&width=320', 'at=now&width=320', 'width=320', 'at=1&width=wide', 'at=1e3&width=320'])(
    'is not asked for by %s',
    async (query) => {
      expect(await refusal(server.ask(`/clips/${bars}/frame?${query}`))).toMatchObject({ status: 400 });
    },
  );
});

describe('the posters of a clip', () => {
  it('are 40 small frames from the first to the last, made once', async () => {
    const [posters, asked] = await Promise.all([
      good<Posters>(server.ask(`/clips/${bars}/posters`)),
      good<Posters>(server.ask(`/clips/${bars}/posters`)),
    ]);
    expect(asked).toEqual(posters);
    expect([posters.widthPx, posters.heightPx, posters.atS.length]).toEqual([160, 90, 40]);
    const lastS = 2 - FRAME_S;
    for (const [k, atS] of posters.atS.entries())
      expect(Math.abs(atS - (k * lastS) / 39)).toBeLessThanOrEqual(HALF_FRAME_S);
    const poster = await jpegOf(server.ask(`/clips/${bars}/posters/17`));
    const frameAt = (s: number) => jpegOf(server.ask(`/clips/${bars}/frame?at=${s + 0.001}&width=160`));
    const [own, next] = [await frameAt(posters.atS[17]), await frameAt(posters.atS[17] + 0.4)];
    // Posters are coded more coarsely, so that they are like their frame, not the same.
    expect(difference(poster.rgb, own.rgb)).toBeLessThan(0.8 * difference(poster.rgb, next.rgb));
  });

  it('have no others', async () => {
    for (const n of ['40', '-1', '1.5', 'x'])
      expect(await refusal(server.ask(`/clips/${bars}/posters/${n}`))).toMatchObject({
        status: 404,
        code: 'poster-unknown',
      });
  });
});

describe('the frames that a run is played from', () => {
  it('wait for the clip to be named, which has to be the one that was measured', async () => {
    const pack = await packOf(7);
    expect(pack).toMatchObject({ state: 'missing', count: 0, timeS: [] });
    expect(pack.reason).toContain('"corridor.mp4" is not known here');
    const wrong = await refusal(server.post('/runs/7/clip', { clip: bars }));
    expect(wrong).toMatchObject({ status: 409, code: 'clip-other' });
    expect(wrong.detail).toContain('"bars.mp4" is another file than "corridor.mp4"');
    expect(await refusal(server.post('/runs/7/clip', { clip: 'nothing' }))).toMatchObject({
      status: 404,
      code: 'clip-unknown',
    });
    expect(await packOf(8)).toMatchObject({ state: 'missing' });
  });

  it('are made once, one for each sample and nearest to it in time', async () => {
    const [first, second] = await Promise.all([
      good<FramePack>(server.post('/runs/7/clip', { clip })),
      good<FramePack>(server.post('/runs/7/clip', { clip })),
    ]);
    expect([first.state, second.state]).toEqual(['making', 'making']);
    expect(first.timeS).toHaveLength(25);
    const pack = await packOf(7);
    const samplesS = runs.get(7)!.series!.motion.timeS;
    expect(pack).toMatchObject({
      state: 'ready',
      count: 25,
      widthPx: 640,
      heightPx: 360,
      timeS: samplesS,
      reason: null,
    });
    const files = (await filesBelow(path.join(server.dataDir, 'previews'))).filter((file) =>
      file.startsWith('frames-'),
    );
    expect(files.map((file) => path.extname(file))).toEqual(['.jpegs', '.json']);
    const index = (await readPackIndex(
      path.join(server.dataDir, 'previews'),
      files[0].slice(0, -'.jpegs'.length),
    ))!;
    index.timeS.forEach((timeS, k) =>
      expect(Math.abs(timeS - samplesS[k])).toBeLessThanOrEqual(HALF_FRAME_S),
    );
    expect(new Set(index.timeS).size).toBe(25);

    const frame = await jpegOf(server.ask('/runs/7/frames/12'));
    const [own, next] = [
      await jpegOf(server.ask(`/clips/${clip}/frame?at=${index.timeS[12] + 0.001}&width=640`)),
      await jpegOf(server.ask(`/clips/${clip}/frame?at=${index.timeS[13] + 0.001}&width=640`)),
    ];
    expect(difference(frame.rgb, own.rgb)).toBeLessThan(difference(frame.rgb, next.rgb) / 2);
    expect(frame.jpeg.length).toBeLessThan(80_000);
    for (const n of ['25', '-1', 'x'])
      expect(await refusal(server.ask(`/runs/7/frames/${n}`))).toMatchObject({
        status: 404,
        code: 'frame-unknown',
      });
    expect(await refusal(server.ask('/runs/0/frames'))).toMatchObject({ status: 404, code: 'run-unknown' });
  });

  it('are there after a restart, also without the clip, and half-made ones are not', async () => {
    const previews = path.join(server.dataDir, 'previews');
    await fs.writeFile(path.join(previews, 'frames-0123.jpegs.part'), 'half');
    await fs.writeFile(path.join(previews, 'frames-4567.jpegs'), 'no index');
    const again = await openServer(folder, { folders: [] }, { runOf: (id) => runs.get(id)! });
    expect(await good<FramePack>(again.ask('/runs/7/frames'))).toMatchObject({ state: 'ready', count: 25 });
    expect(await refusal(again.ask(`/clips/${clip}`))).toMatchObject({ status: 404, code: 'clip-unknown' });
    await again.close();
    expect((await filesBelow(previews)).some((file) => /0123|4567/.test(file))).toBe(false);
  });

  it('say why when the clip cannot give them', async () => {
    const sha256 = await sha256OfFile(CORRIDOR);
    runs.set(9, measured(sha256, [100, 100 + FRAME_S]));
    const pack = await packOf(9);
    expect(pack).toMatchObject({ state: 'failed', count: 0 });
    expect(pack.reason).toContain('The frames of "corridor.mp4" could not be decoded');
  });

  it('stop being made when the server closes, and leave nothing', async () => {
    const sha256 = await sha256OfFile(CORRIDOR);
    runs.set(
      10,
      measured(
        sha256,
        Array.from({ length: 150 }, (_, k) => k * FRAME_S),
      ),
    );
    const closing = await openServer(folder, {}, { runOf: (id) => runs.get(id)! });
    expect(await good<FramePack>(closing.ask('/runs/10/frames'))).toMatchObject({ state: 'making' });
    const before = (await filesBelow(path.join(server.dataDir, 'previews'))).filter(
      (file) => !file.endsWith('.part'),
    );
    await closing.close();
    expect(await filesBelow(path.join(server.dataDir, 'previews'))).toEqual(before);
  });

  it('of 5000 samples at most, thinned evenly', async () => {
    const samplesS = Array.from({ length: 12_000 }, (_, k) => k * FRAME_S);
    runs.set(11, measured(await sha256OfFile(CORRIDOR), samplesS));
    const closing = await openServer(folder, {}, { runOf: (id) => runs.get(id)! });
    const { timeS } = await good<FramePack>(closing.ask('/runs/11/frames'));
    await closing.close();
    expect([timeS.length, timeS[0], timeS.at(-1)]).toEqual([5000, 0, samplesS.at(-1)]);
    const stepsS = timeS.slice(1).map((s, k) => s - timeS[k]);
    expect(Math.max(...stepsS)).toBeLessThan(3.5 * FRAME_S);
    expect(Math.min(...stepsS)).toBeGreaterThan(1.5 * FRAME_S);
  });
});

describe('a pack that is being written', () => {
  it('gives its pictures until it comes to its end, and those who ask then wait for the complete pack', async () => {
    const writer = await PackWriter.begin(path.join(folder, 'room'), 'ending', { widthPx: 2, heightPx: 2 });
    await writer.add(new Uint8Array([1, 2]), 0, 0);
    const early = writer.read(0);
    const finished = writer.finish();
    expect(await early).toEqual(new Uint8Array([1, 2]));
    expect(await writer.read(0)).toBeNull();
    expect(await readPackIndex(path.join(folder, 'room'), 'ending')).toMatchObject(await finished);
    expect(await writer.read(0)).toBeNull();
  });

  it('gives none once it was given up', async () => {
    const writer = await PackWriter.begin(path.join(folder, 'room'), 'given-up', { widthPx: 2, heightPx: 2 });
    await writer.add(new Uint8Array([1, 2]), 0, 0);
    await writer.discard();
    expect(await writer.read(0)).toBeNull();
  });
});

describe('the room of all packs', () => {
  it('is kept by removing what was not used for longest, never what is in use', async () => {
    const room = path.join(folder, 'small room');
    for (const [k, key] of ['old', 'used', 'young'].entries()) {
      const writer = await PackWriter.begin(room, key, { widthPx: 2, heightPx: 2 });
      await writer.add(new Uint8Array(1000), 0, 0);
      await writer.finish();
      await fs.utimes(path.join(room, `${key}.json`), k + 1, k + 1);
    }
    await readPackIndex(room, 'old');
    await keepWithin(room, 2500, new Set(['young']));
    expect(await filesBelow(room)).toEqual(['old.jpegs', 'old.json', 'young.jpegs', 'young.json']);
    await keepWithin(room, 10, new Set(['young']));
    expect(await filesBelow(room)).toEqual(['young.jpegs', 'young.json']);
  });
});
