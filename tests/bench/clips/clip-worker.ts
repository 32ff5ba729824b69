/** One timing in a process of its own, by the program as it is built: what it takes is told over the channel to the parent. */
import { execFile } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import type * as Footage from '../../../src/footage/index.js';
import type * as Measuring from '../../../src/measure.js';
import type * as Proving from '../../../src/prove.js';
import type * as Reporting from '../../../src/report/index.js';
import type * as Following from '../../../src/tracking/index.js';
import { groupUse } from '../../support/process-tree.js';

/** What is timed. */
export type Work = 'ffmpeg' | 'decode' | 'track' | 'measure' | 'proof' | 'native' | 'first';

/** What to do. */
export interface Errand {
  readonly work: Work;
  readonly clip: string;
  readonly threads: number;
  /** Points held alive; as usual when null. */
  readonly tracks: number | null;
}

/** What it took. */
export interface Taken {
  readonly wallS: number;
  /** Of this process and of all that it started. */
  readonly cpuS: number;
  readonly frames: number;
  /** Anything else worth a word. */
  readonly note?: string;
}

const run = promisify(execFile);
const RIG = { focalLengthMm: 28, sensorWidthMm: 36, speedMps: 0.3 };

/** A module of the built program. */
async function built<Module>(file: string): Promise<Module> {
  return (await import(new URL(`../../../dist/${file}`, import.meta.url).href)) as Module;
}

/** Seconds of computing so far, own and of the programs that it started, where the system tells of those: it leads their group. */
function computedS(): number {
  const { user, system } = process.cpuUsage();
  return Math.max((user + system) / 1e6, groupUse(process.pid).computedS);
}

const errand = JSON.parse(process.argv[2] ?? 'null') as Errand;
let startedMs = performance.now();
let startedComputingS = 0;

/** What came before is not counted. */
function begin(): void {
  startedComputingS = computedS();
  startedMs = performance.now();
}

function tell(done: Pick<Taken, 'frames' | 'note'>): void {
  const wallS = (performance.now() - startedMs) / 1000;
  process.send?.({ wallS, cpuS: computedS() - startedComputingS, ...done } satisfies Taken);
}

async function perform({ work, clip, threads, tracks }: Errand, folder: string): Promise<void> {
  const footage = await built<typeof Footage>('footage/index.js');
  const tools = await footage.findTools();
  const hooks = { tools, threads };
  const facts = await footage.probeClip(clip, tools);
  const grey = (): ReturnType<typeof Footage.decodeGrey> => footage.decodeGrey(clip, facts, {}, tools);
  switch (work) {
    case 'ffmpeg': {
      begin();
      const reading = ['-v', 'error', '-nostdin', '-i', clip, '-map', '0:V:0', '-f', 'null', '-'];
      await run(tools.ffmpeg.path, reading);
      return tell({ frames: facts.frameCount });
    }
    case 'decode': {
      begin();
      let frames = 0;
      for await (const { index, release } of grey()) {
        frames = index + 1;
        release?.();
      }
      return tell({ frames });
    }
    case 'track': {
      const { trackFrames } = await built<typeof Following>('tracking/index.js');
      begin();
      const expected = footage.decodedSize(facts, {});
      const options = { threads, expected, ...(tracks !== null && { targetTracks: tracks }) };
      const { table, noisePx } = await trackFrames(grey(), options);
      return tell({ frames: table.frameCount, note: `noise ${noisePx?.toFixed(4) ?? '-'} px` });
    }
    case 'measure': {
      const { measure } = await built<typeof Measuring>('measure.js');
      const { writeRun } = await built<typeof Reporting>('report/index.js');
      begin();
      const bundle = await measure({ clip, rig: RIG }, hooks);
      const measuredS = (performance.now() - startedMs) / 1000;
      await writeRun(path.join(folder, 'report'), bundle);
      return tell({ frames: bundle.run.clip.frameCount, note: `report from ${measuredS.toFixed(1)} s on` });
    }
    case 'proof': {
      const { measure } = await built<typeof Measuring>('measure.js');
      const { proveStored } = await built<typeof Proving>('prove.js');
      const { run: document, series } = await measure({ clip, rig: RIG }, hooks);
      begin();
      const file = path.join(folder, 'proof.mp4');
      const wish = { file, layout: 'alone', window: 'centred' } as const;
      await proveStored({ run: document, series, clip }, wish, hooks);
      return tell({ frames: document.clip.frameCount });
    }
    case 'native': {
      const raw = path.join(folder, 'grey.raw');
      const out = fs.openSync(raw, 'w');
      let size = { widthPx: 0, heightPx: 0 };
      let frames = 0;
      for await (const frame of grey()) {
        fs.writeSync(out, frame.grey);
        size = frame;
        frames++;
      }
      fs.closeSync(out);
      const script = path.join(import.meta.dirname, 'native_tracking.py');
      begin();
      const { stdout } = await run('python3', [script, raw, String(size.widthPx), String(size.heightPx)]);
      return tell({ frames, note: stdout.trim() });
    }
    case 'first':
      throw new Error('the first frame is timed without a loader, by first-frame.mjs');
  }
}

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bench-'));
try {
  await perform(errand, folder);
} finally {
  fs.rmSync(folder, { recursive: true, force: true });
  process.disconnect();
}
