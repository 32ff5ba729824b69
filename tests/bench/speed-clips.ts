/** How fast clips are decoded, followed, measured and rendered, what grows with their length, and what cores and points cost. */
import { execFile } from 'node:child_process';
import os from 'node:os';
import { promisify } from 'node:util';
import { findTools } from '../../src/footage/index.js';
import { median } from '../../src/numerics/index.js';
import { benchClip, CLIP_KINDS, HOW_MADE, repeated, type ClipKind } from './clips/bench-clips.js';
import type { Errand, Work } from './clips/clip-worker.js';
import { timed, type Timing } from './clips/timed.js';

type Write = (text: string) => void;

/** One timing, as it stands in the JSON. */
export interface SpeedRow extends Timing {
  readonly part: string;
  readonly clip: string;
  readonly work: Work;
  readonly threads: number;
}

/** What is asked of a run of the bench. */
export interface SpeedWish {
  readonly repeats: number;
  /** One kind of clip alone, each timed once. */
  readonly quick: boolean;
}

const run = promisify(execFile);
const QUICK: ClipKind = { size: '1080p', codec: 'H.264' };
const WORKS: readonly Work[] = ['ffmpeg', 'decode', 'track', 'measure', 'proof'];
const NAMES: Record<Work, string> = {
  ffmpeg: 'FFmpeg alone, to nothing',
  decode: 'decode only',
  track: 'decode + track',
  measure: 'whole measure, report written',
  proof: 'proof of a measured pass',
  native: 'native tracking alone',
  first: 'first frame tracked',
};
/** Repeats of the clip of ten seconds: up to ten minutes. */
const LENGTHS = [1, 6, 60];
const TRACKS = [100, 200, 280, 400, 800];
const HEAD =
  '| clip | what | ms a frame | frames/s | times decode only | CPU, ms a frame | peak memory, MB | |\n|---|---|---|---|---|---|---|---|\n';

/** A line about the machine, for the head of all tables. */
export function machineLine(): string {
  const load = os.loadavg()[0].toFixed(1);
  return `${os.cpus().length} cores, ${os.cpus()[0]?.model.trim() ?? 'processor not known'}, Node.js ${process.versions.node}, load ${load} before this run\n\n`;
}

/** Every kind of clip by every way of working, beside decoding alone. */
export async function printClipTables(write: Write, wish: SpeedWish): Promise<SpeedRow[]> {
  const tools = await findTools();
  const hasNative = await knowsOpenCv();
  write(`${HOW_MADE} Medians of ${wish.repeats}.\n`);
  write(
    hasNative
      ? '\n'
      : 'No native reference here: on Debian, "apt-get install python3-opencv" brings what it needs.\n\n',
  );
  write(HEAD);
  const rows: SpeedRow[] = [];
  for (const kind of wish.quick ? [QUICK] : CLIP_KINDS) {
    const clip = await benchClip(kind, tools);
    const works = hasNative ? [...WORKS, 'native' as const] : WORKS;
    rows.push(...(await rowsOf('clips', `${kind.size} ${kind.codec}`, clip, works, wish.repeats, write)));
  }
  return rows;
}

async function rowsOf(
  part: string,
  name: string,
  clip: string,
  works: readonly Work[],
  repeats: number,
  write: Write,
): Promise<SpeedRow[]> {
  const rows: SpeedRow[] = [];
  for (const work of works) {
    const errand = { work, clip, threads: 2, tracks: null };
    rows.push(
      await rowOf(
        part,
        name,
        errand,
        repeats,
        write,
        rows.find((one) => one.work === 'decode'),
      ),
    );
  }
  return rows;
}

/** One timing, written as a line. @param decode decoding the same clip alone */
async function rowOf(
  part: string,
  name: string,
  errand: Errand,
  repeats: number,
  write: Write,
  decode: SpeedRow | null = null,
): Promise<SpeedRow> {
  const { work, threads } = errand;
  const row = { part, clip: name, work, threads, ...(await timed(errand, repeats)) };
  write(lineOf(row, decode));
  return row;
}

function lineOf(row: SpeedRow, decode: SpeedRow | null): string {
  const perFrame = (seconds: number): number => (1000 * seconds) / row.frames;
  const native = row.work === 'native' ? (JSON.parse(row.note ?? '{}') as { seconds?: number }) : null;
  // The script tells its own time: reading its library is no tracking.
  const wallS = native?.seconds ?? row.wallS;
  const ratio = decode ? (wallS / row.frames / (decode.wallS / decode.frames)).toFixed(2) : '';
  const cells = [
    ...[row.clip, NAMES[row.work], perFrame(wallS).toFixed(1), (row.frames / wallS).toFixed(1), ratio],
    ...[perFrame(row.cpuS).toFixed(1), row.peakMb?.toFixed(0) ?? 'not known', row.note ?? ''],
  ];
  return `| ${cells.join(' | ')} |\n`;
}

/** The same clip so many times in a row: time a frame, and memory. */
export async function printScalingTable(write: Write, { repeats, quick }: SpeedWish): Promise<SpeedRow[]> {
  const tools = await findTools();
  const clip = await benchClip(QUICK, tools);
  write(`\nWith the length of the clip\n\n${HEAD}`);
  const rows: SpeedRow[] = [];
  for (const times of quick ? LENGTHS.slice(0, 2) : LENGTHS) {
    const long = await repeated(clip, times, tools);
    rows.push(
      ...(await rowsOf(
        'scaling',
        `${10 * times} s`,
        long,
        ['decode', 'measure'],
        times > 6 ? 1 : repeats,
        write,
      )),
    );
  }
  return rows;
}

/** With one thread on one core, and with two on two. */
export async function printCoreTable(write: Write, { repeats }: SpeedWish): Promise<SpeedRow[]> {
  const clip = await benchClip(QUICK, await findTools());
  write(`\nWith the threads of the tracker\n\n${HEAD}`);
  const rows: SpeedRow[] = [];
  for (const threads of [1, 2]) {
    const name = `${threads} thread${threads > 1 ? 's' : ''}`;
    for (const work of ['track', 'measure'] as const)
      rows.push(await rowOf('cores', name, { work, clip, threads, tracks: null }, repeats, write));
  }
  return rows;
}

/** With the number of points held alive: time, and the noise of their tracks. */
export async function printFeatureTable(write: Write, { repeats }: SpeedWish): Promise<SpeedRow[]> {
  const clip = await benchClip(QUICK, await findTools());
  write(`\nWith the points held alive\n\n${HEAD}`);
  const rows: SpeedRow[] = [];
  for (const tracks of TRACKS) {
    const errand = { work: 'track', clip, threads: 2, tracks } as const;
    rows.push(await rowOf('features', `${tracks} points`, errand, repeats, write));
  }
  return rows;
}

/** How long the first word takes. */
export async function printStartTable(write: Write): Promise<SpeedRow[]> {
  const clip = await benchClip(QUICK, await findTools());
  const program = new URL('../../dist/cli/main.js', import.meta.url).pathname;
  const helpMs: number[] = [];
  const nodeMs: number[] = [];
  for (let n = 0; n < 10; n++) {
    helpMs.push(await msOf([program, '--help']));
    nodeMs.push(await msOf(['-e', '0']));
  }
  const [help, node] = [helpMs, nodeMs].map((ms) => median(Float64Array.from(ms)));
  write(
    `\nStart: trundle --help ${help.toFixed(0)} ms, Node.js alone ${node.toFixed(0)} ms (medians of ten)\n`,
  );
  const timing = await timed({ work: 'first', clip, threads: 2, tracks: null }, 5);
  write(
    `First frame of a 1080p clip tracked ${timing.sinceStartS.toFixed(2)} s after the start of the process (median of five)\n`,
  );
  return [{ part: 'startup', clip: '1080p H.264', work: 'first', threads: 2, ...timing }];
}

async function msOf(words: readonly string[]): Promise<number> {
  const startedMs = performance.now();
  await run(process.execPath, [...words]);
  return performance.now() - startedMs;
}

async function knowsOpenCv(): Promise<boolean> {
  try {
    await run('python3', ['-c', 'import cv2, numpy']);
    return true;
  } catch {
    return false;
  }
}
