/** The built program serving the local page, as a person starts it: a process of its own, with a log of made-up runs and the sample clips. */
import { spawn, type ChildProcess } from 'node:child_process';
import fs from 'node:fs';
import http from 'node:http';
import os from 'node:os';
import path from 'node:path';
import { LOG_FILE, openLog } from '../../../src/log/index.js';
import { encodePicture, thumbnail } from '../../../src/report/index.js';
import type { ClipEntry, Job, RunList, StoredRun } from '../../../src/web/api.js';
import { corridorPicture } from '../../report/support/made-up-bundle.js';
import { madeUpRunOf, type MadeUpPass } from '../../support/made-up-runs.js';

const ROOT = path.resolve(import.meta.dirname, '../../..');
const PROGRAM = path.join(ROOT, 'dist/cli/main.js');

/** Folder of the sample clips, the one that the page may read. */
export const CLIPS = path.join(ROOT, 'sample-clips');
/** The clip that is measured; 25 frames a second, 6 s, without timecode. */
export const CLIP = 'tiled-corridor.mp4';
/** What it is measured with: three seconds, and the lens and speed that it was rendered with. */
export const SETTINGS = { focal: '28mm', speed: '0.3m/s', in: '1s', out: '4s' } as const;

/** Passes in the log from the start: two setups on one lane, one of them on a second lane too. */
const PASSES: readonly MadeUpPass[] = [
  { setup: 'soft tyres', lane: '1', passSeed: 1 },
  { setup: 'hard tyres', lane: '1', passSeed: 2, factor: 2 },
  { setup: 'hard tyres', lane: '2', passSeed: 3, factor: 2 },
];

/** An answer as it came over the socket, not decompressed. */
export interface RawAnswer {
  readonly status: number;
  readonly headers: http.IncomingHttpHeaders;
  readonly body: Buffer;
}

/** What is asked over the socket. */
export interface RawQuestion {
  readonly method?: string;
  readonly headers?: http.OutgoingHttpHeaders;
  readonly body?: string;
  /** The token goes along. */
  readonly known?: boolean;
}

/** How the process ended. */
export interface Ending {
  readonly status: number | null;
  /** Standard output and standard error of its whole life. */
  readonly out: string;
  readonly err: string;
}

/** The program at work. */
export interface ServedPage {
  /** As printed, with the token. */
  readonly address: string;
  /** Without. @example "http://127.0.0.1:40123" */
  readonly origin: string;
  /** Folder of the report folders. */
  readonly outDir: string;
  /** Numbers of the made-up runs, in the order of their passes. */
  readonly madeUp: readonly number[];
  readonly ask: (address: string, question?: RawQuestion) => Promise<RawAnswer>;
  /** The answer to a GET with the token. */
  readonly get: <T>(address: string) => Promise<T>;
  /** The run of the sample clip, measured now where no test did it before. */
  readonly measured: () => Promise<StoredRun>;
  /** Interrupts it as Ctrl-C does. */
  readonly interrupt: () => Promise<Ending>;
  /** Takes the process, if it is still there, and its folder away. */
  readonly remove: () => Promise<void>;
}

/** Starts it. @throws Error where it does not print an address */
export async function servePage(): Promise<ServedPage> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-served-'));
  const [dataDir, outDir] = [path.join(folder, 'data'), path.join(folder, 'reports')];
  const madeUp = await keepPasses(dataDir);
  const child = spawn(
    process.execPath,
    [
      ...[PROGRAM, 'serve', '--port', '0', '--data-dir', dataDir, '--out-dir', outDir],
      ...['--folder', CLIPS, '--at-once', '1'],
    ],
    { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'] },
  );
  const ended = endingOf(child);
  const address = await printedAddress(child);
  const { origin, searchParams } = new URL(address);
  const token = searchParams.get('token') ?? '';
  const ask = (asked: string, question: RawQuestion = {}): Promise<RawAnswer> =>
    askRaw(new URL(asked, origin), question, token);
  const get = async <T>(asked: string): Promise<T> => {
    const { status, body } = await ask(asked, { known: true });
    if (status !== 200) throw new Error(`${asked} answered ${status}: ${body.toString()}`);
    return JSON.parse(body.toString()) as T;
  };
  return {
    ...{ address, origin, outDir, madeUp, ask, get },
    measured: () => measuredRun({ ask, get }),
    interrupt: () => {
      child.kill('SIGINT');
      return ended;
    },
    remove: async () => {
      child.kill('SIGKILL');
      await ended;
      fs.rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function keepPasses(dataDir: string): Promise<number[]> {
  const frame = corridorPicture(320, 180);
  const pictures = { picture: await encodePicture(frame), thumbnail: await thumbnail(frame, 160) };
  const log = openLog(path.join(dataDir, LOG_FILE));
  try {
    return PASSES.map((pass) => {
      const kept = madeUpRunOf({ durationS: 5, floor: 'tiled corridor', ...pass });
      return log.add({ ...kept, ...pictures, reportFolder: null }).id;
    });
  } finally {
    log.close();
  }
}

/** The first line that the program prints. */
function printedAddress(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = '';
    child.stdout?.on('data', (piece: Buffer) => {
      text += piece.toString();
      if (text.includes('\n')) resolve(text.slice(0, text.indexOf('\n')));
    });
    child.once('error', reject);
    child.once('exit', (status) =>
      reject(new Error(`the program ended with ${status} before it served; is it built (npm run build)?`)),
    );
  });
}

function endingOf(child: ChildProcess): Promise<Ending> {
  let [out, err] = ['', ''];
  child.stdout?.on('data', (piece: Buffer) => (out += piece.toString()));
  child.stderr?.on('data', (piece: Buffer) => (err += piece.toString()));
  return new Promise((resolve) => child.once('close', (status) => resolve({ status, out, err })));
}

function askRaw(url: URL, { method, headers, body, known }: RawQuestion, token: string): Promise<RawAnswer> {
  return new Promise((resolve, reject) => {
    const request = http.request(
      url,
      {
        method: method ?? 'GET',
        headers: { ...(known === true && { Authorization: `Bearer ${token}` }), ...headers },
      },
      (response) => {
        const pieces: Buffer[] = [];
        response.on('data', (piece: Buffer) => pieces.push(piece));
        response.on('error', reject);
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            body: Buffer.concat(pieces),
          }),
        );
      },
    );
    request.on('error', reject);
    request.end(body);
  });
}

/** Between two looks at a job, ms. */
const AGAIN_MS = 200;

/** The run of the clip in the log; where there is none it is measured by the interface alone. */
async function measuredRun({ ask, get }: Pick<ServedPage, 'ask' | 'get'>): Promise<StoredRun> {
  const { runs } = await get<RunList>('/api/runs');
  const there = runs.find(({ clipFile }) => clipFile === CLIP);
  if (there !== undefined) return get(`/api/runs/${there.id}`);
  const send = async <T>(address: string, body: unknown): Promise<T> => {
    const headers = { 'Content-Type': 'application/json' };
    const answer = await ask(address, { method: 'POST', headers, body: JSON.stringify(body), known: true });
    return JSON.parse(answer.body.toString()) as T;
  };
  const clip = await send<ClipEntry>('/api/clips/from-folder', { folder: '1', path: CLIP });
  const { id } = await send<Job>('/api/jobs', { kind: 'measure', clip: clip.id, settings: SETTINGS });
  for (;;) {
    const job = (await get<readonly Job[]>('/api/jobs')).find((one) => one.id === id);
    if (typeof job?.run === 'number') return get(`/api/runs/${job.run}`);
    if (job?.state === 'failed') throw new Error(`the clip could not be measured: ${job.problem?.detail}`);
    await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
  }
}
