/** Whole proofs: from a clip to a clip, on one thread and on two, and what is left when things end early. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { decodePlanes, probeClip, type ClipFacts, type PlaneFrame } from '../../src/footage/index.js';
import { renderProof, type ProofHooks, type ProofRecord, type ProofRequest } from '../../src/proof/index.js';
import { makeFrames, type FrameErrand } from '../../src/proof/frame-pool.js';
import { exactCrop } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';
import {
  clipFolder,
  makeClip,
  processesNaming,
  setDisplayMatrix,
  testSource,
  tools,
} from '../footage/made-clips.js';
import { cameraOf, formatOf, FPS, planesOf, shake, steady, viewOf } from './support/made-view.js';

const folder = clipFolder();
const place = (name: string): string => path.join(folder, name);

const FRAMES = 12;
const SECONDS = FRAMES / FPS;
const LOSSLESS = ['-c:v', 'libx264', '-qp', '0', '-pix_fmt', 'yuv420p'];
const plainClip = await makeClip(place('plain.mkv'), ...testSource(320, 180, '25', SECONDS), ...LOSSLESS);

const camera = cameraOf(160, 90);
const shaking = { vibration: shake(FRAMES), rows: null };
const still = steady(FRAMES, 0, 0, 0);

/** Renders a clip whole, losslessly, unless told otherwise. */
async function render(
  clip: string,
  name: string,
  rest: Partial<ProofRequest> = {},
  hooks: Partial<ProofHooks> = {},
): Promise<{ record: ProofRecord; facts: ClipFacts; file: string }> {
  const facts = await probeClip(clip, tools);
  const file = place(name);
  const request: ProofRequest = {
    ...{ clip, facts, range: { inS: 0, outS: Infinity }, file, layout: 'alone', codec: 'h264', quality: 0 },
    ...viewOf(still, camera),
    ...rest,
  };
  const record = await renderProof(request, { tools, threads: 1, ...hooks });
  return { record, facts: await probeClip(file, tools), file };
}

async function framesOf(file: string): Promise<PlaneFrame[]> {
  const frames: PlaneFrame[] = [];
  for await (const frame of decodePlanes(file, await probeClip(file, tools), {}, tools)) frames.push(frame);
  return frames;
}

describe('a proof', () => {
  it('is the same file byte for byte on one thread and on two', async () => {
    const request = { ...viewOf(shaking, camera), layout: 'beside' } as const;
    const one = await render(plainClip, 'one.mp4', request, { threads: 1 });
    const two = await render(plainClip, 'two.mp4', request, { threads: 2 });
    expect(one.record.frames).toBe(FRAMES);
    expect(readFileSync(two.file).equals(readFileSync(one.file))).toBe(true);
    expect({ ...two.record, file: '', secondsPerFrame: 0 }).toEqual({
      ...one.record,
      file: '',
      secondsPerFrame: 0,
    });
  });

  it('shows no border at the foretold zoom, and says so', async () => {
    const { zoom } = exactCrop(shaking, camera);
    const at = (given: number) => ({
      ...viewOf(shaking, camera, { window: { kind: 'centred', zoom: given } }),
      quality: 20,
    });
    const { record, facts } = await render(plainClip, 'foretold.mp4', at(zoom));
    expect(record).toMatchObject({ framesOutside: 0, furthestOutsidePx: 0, widthPx: 320, heightPx: 180 });
    expect(record.secondsPerFrame).toBeGreaterThan(0);
    expect(facts).toMatchObject({ widthPx: 320, heightPx: 180, fpsFraction: '25/1', frameCount: FRAMES });
    const unzoomed = await render(plainClip, 'unzoomed.mp4', at(1));
    expect(unzoomed.record.framesOutside).toBeGreaterThan(FRAMES / 2);
    // The frame that needs most crop lacks about half of it on one side.
    expectWithin(unzoomed.record.furthestOutsidePx, 160 * (1 - 1 / zoom), {
      rel: 0.5,
      why: 'corners lack most',
    });
  });

  it('keeps every sample of ten bits, the colours and the shape of the pixels of a clip that does not shake', async () => {
    const clip = await makeClip(
      place('deep.mov'),
      ...testSource(256, 144, '25', 0.2),
      ...['-vf', 'scale=out_color_matrix=bt709,format=yuv422p10le,setsar=4/3', '-c:v', 'prores_ks'],
      ...[
        '-color_primaries',
        'bt709',
        '-color_trc',
        'bt709',
        '-colorspace',
        'bt709',
        '-movflags',
        'write_colr',
      ],
    );
    // As shown 342 x 144.
    const { record, facts } = await render(clip, 'deep.mp4', viewOf(still, cameraOf(342, 144)));
    expect(record).toMatchObject({ pixelFormat: 'yuv422p10le', bitDepth: 10, depthReduced: false });
    expect(facts).toMatchObject({
      pixelFormat: 'yuv422p10le',
      bitDepth: 10,
      storedWidthPx: 256,
      storedHeightPx: 144,
    });
    expect(facts.colour).toMatchObject({ primaries: 'bt709', transfer: 'bt709', matrix: 'bt709' });
    expectWithin(facts.pixelAspect, 4 / 3, { rel: 1e-3, why: 'stored as a fraction of small numbers' });
    expect((await framesOf(place('deep.mp4'))).map(({ planes }) => planes)).toEqual(
      (await framesOf(clip)).map(({ planes }) => planes),
    );
  });

  it('writes ProRes with chroma and depth to spare', async () => {
    const { record } = await render(plainClip, 'edit.mov', { codec: 'prores', layout: 'split' });
    expect(record).toMatchObject({
      pixelFormat: 'yuv422p10le',
      bitDepth: 10,
      codec: 'prores',
      frames: FRAMES,
    });
  });

  it('holds only the range asked for, with its sound and timecode', async () => {
    const sound = ['-f', 'lavfi', '-i', 'sine=frequency=440:duration=1', '-c:a', 'aac'];
    const clip = await makeClip(
      place('sound.mov'),
      ...testSource(160, 90, '25', 1),
      ...sound,
      ...['-c:v', 'libx264', '-pix_fmt', 'yuv420p', '-timecode', '01:00:00:00'],
    );
    const counts: number[][] = [];
    const { record, facts } = await render(
      clip,
      'range.mp4',
      { range: { inS: 0.2, outS: 0.6 } },
      { onProgress: (done, total) => counts.push([done, total]) },
    );
    expect(record.frames).toBe(10);
    expect(record.sound).toMatchObject([{ codec: 'aac' }]);
    expect(facts).toMatchObject({ hasAudio: true, timecodeStart: '01:00:00:05' });
    expect(counts).toEqual(Array.from({ length: 10 }, (_, k) => [k + 1, 10]));
    const source = await framesOf(clip);
    expect((await framesOf(place('range.mp4')))[0].planes).toEqual(source[5].planes);
  });

  it('stands upright when the clip is stored on its side', async () => {
    const clip = await makeClip(place('side.mp4'), ...testSource(320, 180, '25', 0.2), ...LOSSLESS);
    await setDisplayMatrix(clip, [0, 1, -1, 0]);
    const { record, facts } = await render(clip, 'stood.mp4', viewOf(still, cameraOf(90, 160)));
    expect(record).toMatchObject({ widthPx: 180, heightPx: 320, framesOutside: 0 });
    expect(facts).toMatchObject({ rotationDeg: 0, widthPx: 180, heightPx: 320 });
    const luma = (frames: readonly PlaneFrame[]) => frames.map(({ planes }) => planes[0]);
    const stored = await framesOf(clip);
    expect(stored).toHaveLength(5);
    expect(luma(await framesOf(place('stood.mp4')))).toEqual(luma(stored));
  });

  it('has the shape of an upright delivery', async () => {
    const { record, facts } = await render(plainClip, 'upright.mp4', {
      ...viewOf(still, camera, { shape: 16 / 9 }),
      layout: 'beside',
    });
    expect(record.stabilised).toEqual({ widthPx: 102, heightPx: 180 });
    expect(facts).toMatchObject({ widthPx: 422, heightPx: 180 });
  });

  it('runs at an even rate where the clip does not, frames held where there are none', async () => {
    const clip = await makeClip(
      place('uneven.mkv'),
      ...testSource(160, 90, '25', 1),
      ...['-vf', "select='not(between(n,8,12)+eq(n,18))'", '{passthrough}', ...LOSSLESS],
    );
    const given = await probeClip(clip, tools);
    const facts = { ...given, variableRate: true, fps: 25, fpsFraction: '25/1' };
    const { record } = await render(clip, 'even.mp4', { facts });
    expect(record.frames).toBe(25);
    const source = await framesOf(clip);
    const shown = (await framesOf(place('even.mp4'))).map(({ planes }) =>
      source.findIndex((one) => Buffer.from(one.planes[0]).equals(Buffer.from(planes[0]))),
    );
    expect(shown.slice(0, 8)).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
    expect(shown.slice(8, 14)).toEqual([7, 7, 7, 8, 8, 8]);
    expect(shown.at(-1)).toBe(source.length - 1);
  });

  it('refuses what it cannot render before anything is written', async () => {
    const before = readdirSync(folder);
    await expect(render(plainClip, 'no.mp4', {}, { threads: 0 })).rejects.toThrow(/threads must be .* got 0/);
    await expect(render(plainClip, 'no.mp4', { window: { kind: 'centred', zoom: 0.9 } })).rejects.toThrow(
      /zoom must be 1 or more, got 0.9/,
    );
    await expect(
      render(plainClip, 'no.mp4', { window: { kind: 'moving', zoom: Float64Array.of(1) } }),
    ).rejects.toThrow(/window.zoom must have one entry for each of 12/);
    await expect(render(plainClip, 'no.mp4', { timeS: Float64Array.of(0) })).rejects.toThrow(
      /one entry for each of 1 /,
    );
    await expect(render(plainClip, 'no.mov')).rejects.toThrow(/must end in .mp4 or .mkv/);
    expect(readdirSync(folder)).toEqual(before);
  });
});

describe('a proof that ends early', () => {
  const long = makeClip(
    place('long.mkv'),
    ...testSource(320, 180, '25', 20),
    ...LOSSLESS,
    '-preset',
    'ultrafast',
  );

  it.each([1, 2])('leaves no file and no process when interrupted, threads: %d', async (threads) => {
    const clip = await long;
    const before = readdirSync(folder);
    const controller = new AbortController();
    const running = render(
      clip,
      'interrupted.mp4',
      { quality: 30 },
      { threads, signal: controller.signal, onProgress: (done) => done === 3 && controller.abort() },
    );
    await expect(running).rejects.toMatchObject({ name: 'TrundleError', code: 'interrupted' });
    expect(readdirSync(folder)).toEqual(before);
    expect(await processesNaming('long.mkv')).toEqual([]);
    expect(await processesNaming('interrupted.mp4')).toEqual([]);
  });

  it('does not start when it was stopped before', async () => {
    const running = render(plainClip, 'never.mp4', {}, { threads: 2, signal: AbortSignal.abort() });
    await expect(running).rejects.toMatchObject({ code: 'interrupted' });
    expect(readdirSync(folder)).not.toContain('never.mp4');
  });

  it('takes no notice of a frame that comes after all was called off', async () => {
    const source = formatOf(32, 18);
    const controller = new AbortController();
    async function* slow(): AsyncGenerator<FrameErrand> {
      yield { planes: planesOf(source, () => 1), timeS: 0 };
      controller.abort();
      // The worker answers meanwhile.
      await new Promise((resolve) => setTimeout(resolve, 800));
    }
    const recipe = { view: viewOf(still, camera), source, codec: 'h264', layout: 'alone' } as const;
    const made = makeFrames(recipe, slow(), { threads: 2, signal: controller.signal });
    await expect(made.next()).rejects.toMatchObject({ code: 'interrupted' });
  });

  it('says when a worker died, and lets go of the decoder', async () => {
    const source = formatOf(32, 18);
    let open = 0;
    async function* endless(): AsyncGenerator<FrameErrand> {
      open++;
      try {
        for (let k = 0; ; k++) {
          await new Promise((resolve) => setTimeout(resolve, 1));
          yield { planes: planesOf(source, () => k % 255), timeS: k / FPS };
        }
      } finally {
        open--;
      }
    }
    const recipe = { view: viewOf(still, camera), source, codec: 'h264', layout: 'alone' } as const;
    const workerUrl = new URL('./support/dying-worker.ts', import.meta.url);
    let count = 0;
    const running = (async () => {
      for await (const made of makeFrames(recipe, endless(), { threads: 2, workerUrl }))
        count += made.planes.length / 3;
    })();
    await expect(running).rejects.toThrow('A rendering worker stopped in the middle of the clip (status 3).');
    expect(count).toBe(2);
    expect(open).toBe(0);
  });

  it('says when a worker cannot be loaded', async () => {
    const source = formatOf(32, 18);
    const frames = (async function* (): AsyncGenerator<FrameErrand> {
      yield* await Promise.resolve([{ planes: planesOf(source, () => 1), timeS: 0 }]);
    })();
    const recipe = { view: viewOf(still, camera), source, codec: 'h264', layout: 'alone' } as const;
    const workerUrl = new URL('./support/no-such-worker.js', import.meta.url);
    await expect(makeFrames(recipe, frames, { threads: 2, workerUrl }).next()).rejects.toThrow(
      /A rendering worker failed/,
    );
  });
});
