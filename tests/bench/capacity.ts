/** What a minute of footage costs, by folder and by queue, with one and two clips at once; and what a thousand hours would take by that. */
import { execFile } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { findTools, type Tools } from '../../src/footage/index.js';
import type * as Stretches from '../../src/measure-stretches.js';
import { RedisServer, WITHOUT_REDIS } from '../queue/support/redis-server.js';
import { childrenComputedS, descendantBytes } from '../support/process-tree.js';
import { benchClip, FPS, FRAMES, HOW_MADE, repeated, type ClipKind } from './clips/bench-clips.js';

type Write = (text: string) => void;

/** What a way of working took for a minute of footage. */
interface Cost {
  /** Of all processes, seconds of computing. */
  readonly cpuS: number;
  /** By the clock, s. */
  readonly wallS: number;
  /** Most memory of all processes together, megabytes. */
  readonly peakMb: number;
}

/** A folder of clips, and where their reports and their log go. */
interface Reel {
  readonly folder: string;
  readonly minutes: number;
  readonly outDir: string;
  readonly dataDir: string;
}

const PROGRAM = new URL('../../dist/cli/main.js', import.meta.url).pathname;
const SETTINGS = ['--focal', '28mm', '--sensor', 'full-frame', '--speed', '0.3m/s', '--quiet'];
const KINDS: readonly ClipKind[] = [
  { size: '1080p', codec: 'H.264' },
  { size: 'UHD', codec: 'H.264' },
];
const CLIPS = 2;
const LOOK_MS = 250;
/** What is planned for, hours. */
const HOURS = 1000;
/** A clip is read when it is added, when it is decoded, and when the bytes that were measured are held against the order. */
const READS = 3;
/** Rates of UHD originals at 25 frames/s, Mbit/s: H.264 as cameras write it, assumed; ProRes 422 as the clips of this bench have it. */
const RATES = [
  ['H.264', 100],
  ['ProRes 422', 517],
] as const;
/** Machines, and cores of each. */
const STUDIOS = [
  [1, 8],
  [4, 16],
  [10, 32],
] as const;

/** Cores that read at once where a rate of reading is told. */
const BUSY_CORES = 64;

const run = promisify(execFile);

/**
 * Prints the tables.
 * @param repeats of the clip of ten seconds in each of those that are measured
 * @param quick takes one size
 */
export async function printCapacityTable(
  write: Write,
  { repeats, quick }: { readonly repeats: number; readonly quick: boolean },
): Promise<void> {
  const tools = await findTools();
  const lengthS = (repeats * FRAMES) / FPS;
  write(
    `${HOW_MADE} ${CLIPS} clips of ${lengthS} s, reports, log and the start of all programs included.\n\n`,
  );
  write(
    '| clips | way | CPU, s a minute | clock, s a minute | peak memory of all, MB |\n|---|---|---|---|---|\n',
  );
  let dearest = 0;
  let kept = { log: 0, reports: 0 };
  for (const kind of quick ? KINDS.slice(0, 1) : KINDS) {
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-capacity-'));
    try {
      const clip = await repeated(await benchClip(kind, tools), repeats, tools);
      const reel = await reelOf(clip, lengthS, folder, tools);
      for (const [way, cost] of waysOf(reel)) {
        for (const place of [reel.outDir, reel.dataDir]) fs.rmSync(place, { recursive: true, force: true });
        const { cpuS, wallS, peakMb } = await cost();
        const cells = [cpuS, wallS, peakMb].map((value) => value.toFixed(0));
        write(`| ${kind.size} ${kind.codec} | ${way} | ${cells.join(' | ')} |\n`);
        dearest = Math.max(dearest, cpuS);
      }
      kept = { log: megabytes(reel.dataDir) / reel.minutes, reports: megabytes(reel.outDir) / reel.minutes };
    } finally {
      fs.rmSync(folder, { recursive: true, force: true });
    }
  }
  write(`\n${await recordLine(tools)}\n\n`);
  writePlan(write, dearest, kept, lengthS);
}

/** Clips of one make that differ in their bytes, or they would be measured once. */
async function reelOf(clip: string, lengthS: number, folder: string, { ffmpeg }: Tools): Promise<Reel> {
  const reel = path.join(folder, 'reel');
  fs.mkdirSync(reel);
  for (let n = 1; n <= CLIPS; n++) {
    const file = path.join(reel, `take ${n}${path.extname(clip)}`);
    const copying = ['-i', clip, '-c', 'copy', '-metadata', `comment=take ${n}`, file];
    await run(ffmpeg.path, ['-v', 'error', '-nostdin', ...copying]);
  }
  const places = { outDir: path.join(folder, 'reports'), dataDir: path.join(folder, 'data') };
  return { folder: reel, minutes: (CLIPS * lengthS) / 60, ...places };
}

/** Ways of measuring a reel, each with what it costs. */
function waysOf(reel: Reel): (readonly [way: string, cost: () => Promise<Cost>])[] {
  const cores = os.availableParallelism();
  const threads = (atOnce: number): string => `${Math.max(1, Math.floor(cores / atOnce))} thread(s) each`;
  const byFolder = (jobs: number): (() => Promise<Cost>) => {
    const words = ['measure', reel.folder, '--jobs', String(jobs), ...SETTINGS, ...placesOf(reel)];
    return () => costOf(reel, () => program(words));
  };
  const ways: (readonly [string, () => Promise<Cost>])[] = [
    [`folder, one clip at a time, ${threads(1)}`, byFolder(1)],
    [`folder, two at once, ${threads(2)}`, byFolder(2)],
  ];
  if (WITHOUT_REDIS !== null) return ways;
  return [
    ...ways,
    [`queue, a worker with two at once, ${threads(2)}`, () => byQueue(reel, 1, 2)],
    [`queue, two workers with one each, ${threads(1)}`, () => byQueue(reel, 2, 1)],
  ];
}

async function byQueue(reel: Reel, workers: number, jobs: number): Promise<Cost> {
  const redis = await RedisServer.start();
  const queue = (command: string, ...words: string[]): Promise<unknown> =>
    program(['queue', command, '--redis', redis.url, ...words]);
  try {
    return await costOf(reel, async () => {
      await queue('add', reel.folder, ...SETTINGS, ...placesOf(reel));
      const words = ['--folder', reel.folder, '--jobs', String(jobs), '--until-empty', '--quiet'];
      await Promise.all(Array.from({ length: workers }, () => queue('work', ...words)));
      await queue('collect', '--quiet', ...placesOf(reel));
    });
  } finally {
    await redis.end();
  }
}

function placesOf({ outDir, dataDir }: Reel): string[] {
  return ['--out-dir', outDir, '--data-dir', dataDir];
}

function program(words: readonly string[]): Promise<unknown> {
  return run(process.execPath, [PROGRAM, ...words], { maxBuffer: 2 ** 26 });
}

async function costOf({ minutes }: Reel, work: () => Promise<unknown>): Promise<Cost> {
  const [startedS, startedMs] = [childrenComputedS(), performance.now()];
  let peakBytes = 0;
  const looking = setInterval(() => {
    peakBytes = Math.max(peakBytes, descendantBytes(process.pid));
  }, LOOK_MS);
  try {
    await work();
  } finally {
    clearInterval(looking);
  }
  const wallS = (performance.now() - startedMs) / 1000;
  return {
    cpuS: (childrenComputedS() - startedS) / minutes,
    wallS: wallS / minutes,
    peakMb: peakBytes / 1e6,
  };
}

/** How large the record of a stretch is, which waits in Redis until its clip is joined. */
async function recordLine(tools: Tools): Promise<string> {
  const { measureStretch } = (await import(
    new URL('../../dist/measure-stretches.js', import.meta.url).href
  )) as typeof Stretches;
  const request = { clip: await benchClip(KINDS[0], tools), rig: { focalLengthMm: 28, speedMps: 0.3 } };
  const limits = { atOnce: 100, stretch: FRAMES / 2, shared: 25 };
  const { length } = await measureStretch(request, 0, null, { tools }, limits);
  return `The record of a stretch: ${(length / (FRAMES / 2)).toFixed(0)} bytes a frame, packed.`;
}

/** @param cpuS of a minute, the dearest of the table @param kept megabytes a minute, of clips of `lengthS` */
function writePlan(
  write: Write,
  cpuS: number,
  kept: { readonly log: number; readonly reports: number },
  lengthS: number,
): void {
  const minutes = HOURS * 60;
  const coreHours = (minutes * cpuS) / 3600;
  const gigabytes = (megabytesAMinute: number): string => ((minutes * megabytesAMinute) / 1000).toFixed(0);
  write(`${HOURS} hours are ${minutes} minutes; by ${cpuS.toFixed(0)} s of computing a minute:\n\n`);
  write(`| what | needs |\n|---|---|\n| computing | ${coreHours.toFixed(0)} hours of one core |\n`);
  for (const [machines, cores] of STUDIOS)
    write(`| ${machines} of ${cores} cores | ${(coreHours / machines / cores / 24).toFixed(1)} days |\n`);
  write(`| log, as clips of ${lengthS} s | ${gigabytes(kept.log)} GB |\n`);
  write(`| reports, as clips of ${lengthS} s | ${gigabytes(kept.reports)} GB |\n`);
  for (const [codec, mbit] of RATES) {
    const terabytes = (HOURS * 3600 * mbit) / 8e6;
    const lastsS = (coreHours * 3600) / BUSY_CORES;
    const gigabit = (READS * terabytes * 8000) / lastsS;
    write(`| footage, ${codec}, ${mbit} Mbit/s | ${terabytes.toFixed(0)} TB, read ${READS} times; `);
    write(`${gigabit.toFixed(1)} Gbit/s while ${BUSY_CORES} cores are busy |\n`);
  }
}

function megabytes(folder: string): number {
  const names = fs.existsSync(folder) ? fs.readdirSync(folder, { recursive: true, encoding: 'utf8' }) : [];
  const stats = names.map((name) => fs.statSync(path.join(folder, name)));
  return stats.filter((stat) => stat.isFile()).reduce((sum, { size }) => sum + size, 0) / 1e6;
}
