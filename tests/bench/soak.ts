/**
 * Whether memory stays flat: `npm run soak -- [short] [long] [--times 200] [--hours 2] [--fps 25]`.
 *
 * short: one small clip measured many times in one process, report and log included. long: hours of made-up footage, a dolly that
 * rolls there and back, measured in one run. Prints what the process holds as it goes; ends with status 1 where that grows.
 */
import { execFile } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { parseArgs, promisify } from 'node:util';
import { findTools, type Tools } from '../../src/footage/index.js';
import { keepInLog } from '../../src/keep-run.js';
import { measure } from '../../src/measure.js';
import { mean } from '../../src/numerics/index.js';
import { writeRun } from '../../src/report/index.js';
import { resolveSynthOptions, synthesise } from '../../src/synth/index.js';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    times: { type: 'string', default: '200' },
    hours: { type: 'string', default: '2' },
    fps: { type: 'string', default: '25' },
  },
});
const run = promisify(execFile);
const write = (text: string): void => void process.stdout.write(text);
const wants = (kind: string): boolean => positionals.length === 0 || positionals.includes(kind);
const RIG = {
  focalLengthMm: 35,
  sensorWidthMm: 36,
  speedMps: 0.2,
  lensDistortion: { k1: 0, k2: 0, p1: 0, p2: 0, k3: 0 },
};

/** What the process holds. */
interface Holding {
  readonly rssMb: number;
  readonly heapMb: number;
  readonly buffersMb: number;
  /** Open files and pipes; NaN where the system does not tell. */
  readonly files: number;
  /** Timers, pipes, threads and children that keep the process alive. */
  readonly active: number;
}

function holding(): Holding {
  (globalThis as { gc?: () => void }).gc?.();
  const { rss, heapUsed, arrayBuffers } = process.memoryUsage();
  const files = fs.existsSync('/proc/self/fd') ? fs.readdirSync('/proc/self/fd').length : NaN;
  const active = process.getActiveResourcesInfo().length;
  return { rssMb: rss / 1e6, heapMb: heapUsed / 1e6, buffersMb: arrayBuffers / 1e6, files, active };
}

const HEAD = 'RSS, MB | heap, MB | buffers, MB | open files | active handles |';

function row(label: string, { rssMb, heapMb, buffersMb, files, active }: Holding): void {
  write(
    `| ${label} | ${[rssMb, heapMb, buffersMb, files, active].map((value) => value.toFixed(0)).join(' | ')} |\n`,
  );
}

/** Fails the run where the figure at the end is more than the share above the figure in the middle. */
function expectFlat(what: string, middle: number, end: number, share: number): void {
  const growth = end / middle - 1;
  const isFlat = growth <= share;
  write(
    `${what}: ${middle.toFixed(1)}, then ${end.toFixed(1)} (${(100 * growth).toFixed(1)} %): ${isFlat ? 'flat' : 'GROWS'}\n`,
  );
  if (!isFlat) process.exitCode = 1;
}

async function film(
  folder: string,
  name: string,
  seconds: number,
  fps: number,
  tools: Tools,
): Promise<string> {
  const options = resolveSynthOptions({
    scene: 'plywood-loft',
    move: 'lateral',
    durationS: seconds,
    fps,
    widthPx: 320,
    heightPx: 180,
    focalLengthMm: 35,
    speedMps: 0.2,
    vibration: { angularDegRms: { tilt: 0.05, pan: 0.02 }, translationMmRms: { lateral: 0.2 } },
  });
  const file = (ending: string): string => path.join(folder, `${name}.${ending}`);
  await synthesise(
    options,
    { clipFile: file('mp4'), truthFile: file('truth.json'), rigFile: file('rig.json') },
    tools,
    {},
  );
  return file('mp4');
}

async function soakShort(folder: string, times: number, tools: Tools): Promise<void> {
  const clip = await film(folder, 'short', 2, 25, tools);
  const logFile = path.join(folder, 'runs.db');
  write(
    `\n${times} measurements of a clip of 2 s in one process, report and log included\n\n| after | ${HEAD}\n|---|---|---|---|---|---|\n`,
  );
  const held: Holding[] = [];
  const every = Math.max(1, Math.round(times / 20));
  for (let n = 1; n <= times; n++) {
    const bundle = await measure({ clip, rig: RIG }, { tools });
    const reportFolder = path.join(folder, `report-${n % 3}`);
    await writeRun(reportFolder, bundle);
    const kept = await keepInLog(bundle, { logFile, reportFolder, settingsKey: null });
    if ('failure' in kept) throw kept.failure;
    if (n % every !== 0) continue;
    held.push(holding());
    row(String(n), held[held.length - 1]);
  }
  const third = Math.floor(held.length / 3);
  const part = (of: (one: Holding) => number, from: number): number =>
    mean(held.slice(from, from + third).map(of));
  const [middle, last] = [third, held.length - third];
  expectFlat(
    'RSS of the middle and the last third, MB',
    part((one) => one.rssMb, middle),
    part((one) => one.rssMb, last),
    0.05,
  );
  expectFlat(
    'heap, MB',
    part((one) => one.heapMb, middle),
    part((one) => one.heapMb, last),
    0.05,
  );
  expectFlat(
    'open files',
    part((one) => one.files, middle),
    part((one) => one.files, last),
    0,
  );
  expectFlat(
    'active handles',
    part((one) => one.active, middle),
    part((one) => one.active, last),
    0,
  );
}

async function soakLong(folder: string, hours: number, fps: number, tools: Tools): Promise<void> {
  const forth = await film(folder, 'forth', 20, fps, tools);
  const there = path.join(folder, 'there-and-back.mp4');
  const clip = path.join(folder, 'hours.mp4');
  const ffmpeg = (...words: string[]) => run(tools.ffmpeg.path, ['-v', 'error', '-nostdin', '-y', ...words]);
  await ffmpeg(
    '-i',
    forth,
    '-filter_complex',
    '[0:v]split[a][b];[b]reverse[r];[a][r]concat=n=2:v=1',
    '-crf',
    '16',
    there,
  );
  const loops = Math.round((hours * 3600) / 40) - 1;
  await ffmpeg('-stream_loop', String(loops), '-i', there, '-c', 'copy', clip);
  write(
    `\n${hours} h of made-up footage at ${fps} frames/s in one run\n\n| done | seconds | ${HEAD}\n|---|---|---|---|---|---|---|\n`,
  );
  const startMs = performance.now();
  const samples: { share: number; rssMb: number }[] = [];
  let share = 0;
  const timer = setInterval(() => samples.push({ share, rssMb: process.memoryUsage().rss / 1e6 }), 1000);
  let told = -1;
  const bundle = await measure(
    { clip, rig: RIG },
    {
      tools,
      onProgress: (stage, done, total) => {
        if (stage === 'track' && total) share = done / total;
        const step = Math.floor(20 * share);
        if (stage !== 'track' || step === told) return;
        told = step;
        row(`${5 * step} % | ${((performance.now() - startMs) / 1000).toFixed(0)}`, holding());
      },
    },
  ).finally(() => clearInterval(timer));
  row(`measured | ${((performance.now() - startMs) / 1000).toFixed(0)}`, holding());
  const most = (from: number, to: number): number =>
    Math.max(...samples.filter((one) => one.share >= from && one.share < to).map(({ rssMb }) => rssMb));
  const written = await writeRun(path.join(folder, 'hours'), bundle);
  row(`report | ${((performance.now() - startMs) / 1000).toFixed(0)}`, holding());
  const { run: document } = bundle;
  write(
    `Frames ${document.clip.frameCount}, tilt ${document.motion.angular.tilt.rmsDeg?.toFixed(4) ?? '-'} deg RMS, grade ${document.verdict.grade}, ${written.files.length} files, most of all ${Math.max(...samples.map(({ rssMb }) => rssMb)).toFixed(0)} MB\n`,
  );
  expectFlat(
    'Most RSS of the second and of the last quarter while tracking, MB',
    most(0.25, 0.5),
    most(0.75, 1.01),
    0.15,
  );
}

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-soak-'));
try {
  const tools = await findTools();
  if (wants('short')) await soakShort(folder, Number(values.times), tools);
  if (wants('long')) await soakLong(folder, Number(values.hours), Number(values.fps), tools);
} finally {
  fs.rmSync(folder, { recursive: true, force: true });
}
