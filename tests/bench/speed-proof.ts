/** Milliseconds a frame of the proof: each part alone on one thread, then the whole on one and on two. */
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import {
  decodePlanes,
  encodePlanes,
  findTools,
  probeClip,
  type PlaneFormat,
  type Tools,
} from '../../src/footage/index.js';
import { median } from '../../src/numerics/index.js';
import { planFrames, type FrameRecipe } from '../../src/proof/frame-maker.js';
import { renderProof } from '../../src/proof/index.js';
import { OutsideMeter } from '../../src/proof/outside.js';
import { emptyPlanes, planeGroups } from '../../src/proof/plane-drawing.js';
import { SourceGrid } from '../../src/proof/source-grid.js';
import { exactCrop, turnOfFrame } from '../../src/stabilise/index.js';
import type { Samples } from '../../src/vision/index.js';
import {
  BARREL,
  cameraOf,
  formatOf,
  FPS,
  madeFacts,
  planesOf,
  rolling,
  shake,
  viewOf,
} from '../proof/support/made-view.js';

/** More than the encoder looks ahead, so that drawing and coding go on side by side. */
const FRAMES = 48;
const CASES = [
  { widthPx: 1280, heightPx: 720, bitDepth: 8 },
  { widthPx: 1280, heightPx: 720, bitDepth: 10 },
  { widthPx: 1920, heightPx: 1080, bitDepth: 8 },
  { widthPx: 1920, heightPx: 1080, bitDepth: 10 },
] as const;

type Case = (typeof CASES)[number];
type Write = (text: string) => void;

/** Parts in the order of the table. */
const PARTS = ['decode', 'places', 'resample', 'encode', 'whole, 1 thread', 'whole, 2 threads'] as const;
type Part = (typeof PARTS)[number];

/** Prints a line for each size and depth: a clip of soft detail that shakes, through a bent lens and a rolling shutter. */
export async function printProofTable(write: Write): Promise<void> {
  const tools = await findTools();
  const folder = mkdtempSync(path.join(os.tmpdir(), 'speed-'));
  write(`Proof, ms a frame of 4:2:0 (times that of the first line), medians of ${FRAMES} frames\n\n`);
  write(`| picture | ${PARTS.join(' | ')} |\n|---|${'---|'.repeat(PARTS.length)}\n`);
  try {
    let first: Record<Part, number> | null = null;
    for (const one of CASES) {
      const ms = await timesOf(one, folder, tools);
      first ??= ms;
      const cells = PARTS.map((part) => `${ms[part].toFixed(1)} (${(ms[part] / first![part]).toFixed(1)})`);
      write(`| ${one.widthPx}x${one.heightPx}, ${one.bitDepth} bits | ${cells.join(' | ')} |\n`);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function timesOf(given: Case, folder: string, tools: Tools): Promise<Record<Part, number>> {
  const { widthPx, heightPx, bitDepth } = given;
  const pixelFormat = bitDepth > 8 ? 'yuv420p10le' : 'yuv420p';
  const source = formatOf(widthPx, heightPx, { pixelFormat, bitDepth });
  const clip = path.join(folder, `${widthPx}-${bitDepth}.mp4`);
  await encode(clip, source, Array(FRAMES).fill(pictureOf(source)) as Samples[][], 'veryfast', tools);

  const facts = await probeClip(clip, tools);
  const frames: (readonly Samples[])[] = [];
  const decode: number[] = [];
  let from = performance.now();
  for await (const { planes } of decodePlanes(clip, facts, {}, tools)) {
    decode.push(performance.now() - from);
    frames.push(planes);
    from = performance.now();
  }

  const corrections = rolling(shake(FRAMES));
  const camera = cameraOf(960, 540, BARREL);
  const view = viewOf(corrections, camera);
  const { zoom } = exactCrop(corrections, camera);
  const recipe: FrameRecipe = {
    view: { ...view, window: { kind: 'centred', zoom } },
    ...{ source, codec: 'h264', layout: 'alone' },
  };
  const plan = planFrames(recipe);
  const groups = planeGroups(source, plan.stabilised);
  const grids = groups.map(({ nodes }) => new SourceGrid(source, plan.output, camera, nodes));
  const meter = new OutsideMeter(source, plan.output, recipe.view);
  const made = frames.map(() => emptyPlanes(plan.stabilised));
  const places: number[] = [];
  const resample: number[] = [];
  frames.forEach((planes, t) => {
    const turn = turnOfFrame(corrections, t);
    const start = performance.now();
    const found = grids.map((grid) => grid.places(turn, zoom));
    meter.distancePx(turn, zoom);
    const middle = performance.now();
    groups.forEach((group, k) => group.draw(planes, found[k], made[t]));
    places.push(middle - start);
    resample.push(performance.now() - middle);
  });

  const file = path.join(folder, 'proof.mp4');
  from = performance.now();
  await encode(file, plan.written, made, 'medium', tools);
  const encodeMs = (performance.now() - from) / FRAMES;
  /** From the first frame written to the file being whole: starting workers is not counted. */
  const whole = async (threads: number): Promise<number> => {
    const rest = { clip, facts, range: { inS: 0, outS: Infinity }, file };
    let startedMs = 0;
    const onProgress = (done: number): void => {
      if (done === 1) startedMs = performance.now();
    };
    await renderProof(
      { ...recipe.view, ...rest, layout: 'alone', codec: 'h264' },
      { tools, threads, onProgress },
    );
    return (performance.now() - startedMs) / (FRAMES - 1);
  };
  return {
    decode: median(Float64Array.from(decode)),
    places: median(Float64Array.from(places)),
    resample: median(Float64Array.from(resample)),
    encode: encodeMs,
    'whole, 1 thread': await whole(1),
    'whole, 2 threads': await whole(2),
  };
}

/** Soft detail with some grain, so that coding has something to do. */
function pictureOf(format: PlaneFormat): Samples[] {
  const scale = 2 ** (format.bitDepth - 8);
  const grain = (x: number, y: number): number => ((Math.imul(x + 4096 * y, 2654435761) >>> 20) & 15) - 8;
  return planesOf(
    format,
    (x, y, k) =>
      scale *
      (k > 0 ? 128 : 120 + 60 * Math.sin(0.31 * x + 0.12 * y) * Math.cos(0.09 * x - 0.35 * y) + grain(x, y)),
  );
}

async function encode(
  file: string,
  format: PlaneFormat,
  pictures: readonly (readonly Samples[])[],
  preset: string,
  tools: Tools,
): Promise<void> {
  async function* frames() {
    for (const planes of pictures) yield await Promise.resolve({ planes });
  }
  const source = madeFacts(format.widthPx, format.heightPx);
  const options = { source, format, codec: 'h264', fpsFraction: `${FPS}/1`, preset } as const;
  await encodePlanes(file, { ...options, sound: null, timecode: null }, frames(), tools);
}
