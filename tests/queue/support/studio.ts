/**
 * A small studio: a folder of clips that say themselves how they are to be measured, workers whose measurements are made up, and a log.
 * So what is tested is the queue, and a measurement takes as long as the test wants.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import type { StretchLimits } from '../../../src/follow-stretches.js';
import type { Tools } from '../../../src/footage/index.js';
import { LOG_FILE, openLog } from '../../../src/log/index.js';
import {
  keepPlace,
  openCoordinator,
  orderOf,
  clipRulesOf,
  work,
  type Coordinator,
  type KeepPlace,
  type Put,
  type RedisAddress,
  type WorkEvent,
  type WorkSummary,
} from '../../../src/queue/index.js';
import type { Rig } from '../../../src/run/index.js';
import { madeUpBundle } from '../../report/support/made-up-bundle.js';

/** Lock of workers in these tests, ms: so long a dead one keeps its clips. */
export const LOCK_MS = 1500;
const ROOT = path.resolve(import.meta.dirname, '../../..');

/** What a worker of a test works with, besides its queue and its clips. */
export interface WorkerWish {
  readonly name?: string;
  readonly atOnce?: number;
  readonly untilEmpty?: boolean;
  readonly signal?: AbortSignal;
  readonly giveBack?: AbortSignal;
  readonly origins?: readonly string[];
  /** Folders that it may read; that of the clips unless set. */
  readonly folders?: readonly string[];
  readonly maps?: readonly string[];
  /** Measures in earnest, clips cut by these limits, with these tools. */
  readonly earnest?: { readonly limits: StretchLimits; readonly tools: Tools };
}

/**
 * The process of a made-up measurement. A clip is a text: "wait 500" takes half a second, "fail code" fails, "die" ends without a word,
 * "stretches 3" is a long clip, of which stretch number 2 fails by "bad 2". A record is the number of its stretch.
 */
const MEASURING = `
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { gzipSync } from 'node:zlib';
const folder = import.meta.dirname;
const last = (message) => process.send(message, undefined, undefined, () => process.exit(0));
async function measure({ file, order, part, worker }) {
  const bytes = fs.readFileSync(file);
  const text = bytes.toString();
  const records = part.kind === 'join' ? part.records.map((record) => Buffer.from(record).toString()) : [];
  const of = { clip: '', stretch: '#' + part.number, join: '=' + records.join('') }[part.kind];
  fs.appendFileSync(path.join(folder, 'begun.txt'), order.name + of + '\\n');
  const said = (word) => new RegExp('^' + word + ' (.+)$', 'm').exec(text)?.[1];
  process.send({ kind: 'progress', stage: 'track', done: 1, total: 2 });
  await new Promise((resolve) => setTimeout(resolve, Number(said('wait') ?? 0)));
  if (said('die')) process.kill(process.pid, 'SIGKILL');
  const once = said('once');
  const mark = path.join(folder, path.basename(order.name) + '.tried');
  if (said('fail') || (once && !fs.existsSync(mark))) {
    fs.writeFileSync(mark, '');
    return last({ kind: 'failed', code: said('fail') ?? once, message: 'It is "' + order.name + '" that will not do.' });
  }
  const count = Number(said('stretches') ?? 0);
  if (part.kind === 'stretch' && said('bad') === String(part.number))
    return last({ kind: 'failed', code: 'decode-failed', message: 'Stretch ' + part.number + ' is damaged.' });
  if (part.kind === 'stretch' || (part.kind === 'clip' && part.inStretches && count > 0))
    return last({ kind: 'stretch', record: Buffer.from(String(part.number ?? 0)), count });
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const { run, series } = JSON.parse(fs.readFileSync(path.join(folder, 'measured.json'), 'utf8'));
  run.clip = { ...run.clip, file: path.basename(order.name), sha256 };
  run.createdAt = series.createdAt = new Date().toISOString();
  series.clipSha256 = sha256;
  const { name, settingsKey } = order;
  const packed = gzipSync(JSON.stringify({ schema: 'trundle-measured-clip/1', name, settingsKey, worker, run, series, jpeg: null }));
  last({ kind: 'done', packed, sha256, verdict: run.verdict.grade });
}
process.once('disconnect', () => process.exit(1));
process.on('message', (message) => {
  if (message.kind === 'start') void measure(message.task);
  else last({ kind: 'failed', code: 'interrupted', message: 'Stopped.' });
});
process.send({ kind: 'ready' });
`;

/** The studio of one test. */
export class Studio {
  readonly folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-studio-'));
  readonly clips = path.join(this.folder, 'clips');
  readonly logFile = path.join(this.folder, 'data', LOG_FILE);
  readonly outDir = path.join(this.folder, 'reports');
  readonly events: WorkEvent[] = [];
  readonly #children: ChildProcess[] = [];
  readonly #measuring: string;

  constructor(
    readonly address: RedisAddress,
    readonly queue: string,
  ) {
    fs.mkdirSync(this.clips);
    const { run, series } = madeUpBundle();
    fs.writeFileSync(path.join(this.folder, 'measured.json'), JSON.stringify({ run, series }));
    this.#measuring = path.join(this.folder, 'measuring.mjs');
    fs.writeFileSync(this.#measuring, MEASURING);
  }

  /** Shoots a clip. @returns its path */
  clip(name: string, text = ''): string {
    const file = path.join(this.clips, name);
    fs.mkdirSync(path.dirname(file), { recursive: true });
    fs.writeFileSync(file, `${name}\n${text}\n`);
    return file;
  }

  /** Takes over a clip that is there. @returns its path in this studio */
  take(from: string, name: string): string {
    const file = path.join(this.clips, name);
    fs.copyFileSync(from, file);
    return file;
  }

  coordinator(patienceMs = 20_000): Promise<Coordinator> {
    return openCoordinator({ address: this.address, queue: this.queue, patienceMs });
  }

  get place(): KeepPlace {
    return keepPlace({ logFile: this.logFile, outDir: this.outDir });
  }

  /** Puts a clip in, to be tried three times with little time between. */
  async put(
    coordinator: Coordinator,
    clip: string,
    rig: Rig = { focalLengthMm: 35 },
    origins: readonly string[] = [],
  ): Promise<Put> {
    const order = await orderOf({ clip, request: { rig } }, origins, new AbortController().signal);
    return coordinator.put(order, { attempts: 3, backOffMs: 100 });
  }

  /** Works in this process. */
  work(wish: WorkerWish = {}): Promise<WorkSummary> {
    const { name = 'here', atOnce = 2, untilEmpty = wish.signal === undefined, origins = [] } = wish;
    const never = new AbortController().signal;
    const { limits, tools = { ffmpeg: 'ffmpeg', ffprobe: 'ffprobe' } as never } = wish.earnest ?? {};
    return work({
      ...{ address: this.address, queue: this.queue, name, atOnce, untilEmpty, threads: 1, lockMs: LOCK_MS },
      rules: clipRulesOf({ maps: wish.maps ?? [], folders: wish.folders ?? [this.clips], origins }),
      leftMs: 300,
      tempFolder: path.join(this.folder, 'temp'),
      tools,
      ...(limits && { limits }),
      ...{ signal: wish.signal ?? never, giveBack: wish.giveBack ?? never },
      onEvent: (event) => this.events.push(event),
      means: wish.earnest ? {} : { url: pathToFileURL(this.#measuring) },
    });
  }

  /** Starts a process that works or collects, as a machine of its own that can be killed. @param what `work` or `collect` */
  start(what: 'work' | 'collect'): ChildProcess {
    const order = {
      ...{ what, address: this.address, queue: this.queue, lockMs: LOCK_MS },
      clips: this.clips,
    };
    const places = { logFile: this.logFile, outDir: this.outDir, folder: this.folder };
    const program = path.join(import.meta.dirname, 'studio-program.ts');
    const child = spawn(
      process.execPath,
      ['--import', 'tsx', program, JSON.stringify({ ...order, ...places, measuring: this.#measuring })],
      { stdio: ['ignore', 'pipe', 'inherit'], cwd: ROOT },
    );
    this.#children.push(child);
    return child;
  }

  /** Names of clips whose measurement was begun, once for each time. */
  begun(): string[] {
    const file = path.join(this.folder, 'begun.txt');
    return fs.existsSync(file) ? fs.readFileSync(file, 'utf8').trim().split('\n') : [];
  }

  /** Clips of the log, in the order of the alphabet. */
  logged(): string[] {
    if (!fs.existsSync(this.logFile)) return [];
    const log = openLog(this.logFile);
    try {
      return log
        .list()
        .map(({ clipFile }) => clipFile)
        .sort();
    } finally {
      log.close();
    }
  }

  /** Folders of whole reports. */
  reports(): string[] {
    if (!fs.existsSync(this.outDir)) return [];
    return fs
      .readdirSync(this.outDir)
      .filter((name) => fs.existsSync(path.join(this.outDir, name, 'report.html')))
      .sort();
  }

  /** What was told of one kind. */
  told<Kind extends WorkEvent['kind']>(kind: Kind): Extract<WorkEvent, { kind: Kind }>[] {
    return this.events.filter((event): event is Extract<WorkEvent, { kind: Kind }> => event.kind === kind);
  }

  end(): void {
    for (const child of this.#children) child.kill('SIGKILL');
    fs.rmSync(this.folder, { recursive: true, force: true });
  }
}

/** Waits until something holds. @throws when it does not within half a minute */
export async function until(holds: () => boolean | Promise<boolean>, what: string): Promise<void> {
  for (const end = performance.now() + 30_000; performance.now() < end;) {
    if (await holds()) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`not within 30 s: ${what}`);
}

/** Resolves when a process has said a word on its standard output. */
export function said(child: ChildProcess, word: string): Promise<void> {
  let heard = '';
  return new Promise((resolve, reject) => {
    child.once('exit', () => reject(new Error(`it ended without "${word}"; it said: ${heard}`)));
    child.stdout?.on('data', (bytes: Buffer) => {
      heard += bytes.toString();
      if (heard.includes(word)) resolve();
    });
  });
}

/** Ends a process as the system does that has no memory left. */
export async function kill(child: ChildProcess): Promise<void> {
  const gone = new Promise((resolve) => child.once('exit', resolve));
  if (child.exitCode !== null) return;
  child.kill('SIGKILL');
  await gone;
}
