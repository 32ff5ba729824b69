/** The routes of clips over a data folder and an allowed folder of their own, asked without a socket. */
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { Hono } from 'hono';
import { findTools } from '../../../../src/footage/index.js';
import { DELIVERY_PRESETS } from '../../../../src/judge/index.js';
import type { ClipEntry } from '../../../../src/web/api.js';
import { clipRoutes, openClips, type Clips, type RunSource } from '../../../../src/web/clips/index.js';
import type { WebContext } from '../../../../src/web/server/context.js';
import { answerProblem } from '../../../../src/web/server/problem.js';

/** A clip of 6 s, 1280 px wide, 25 frames/s, with its rig file beside it. */
export const CORRIDOR = path.resolve(import.meta.dirname, '../../../../sample-clips/tiled-corridor.mp4');

export const tools = await findTools();

/** A server without its socket. */
export interface ClipServer {
  readonly clips: Clips;
  readonly dataDir: string;
  /** Allowed, its id is "card". */
  readonly card: string;
  ask(place: string, init?: RequestInit): Promise<Response>;
  put(
    name: string,
    body: Uint8Array<ArrayBuffer> | ReadableStream<Uint8Array> | null,
    headers?: Record<string, string>,
  ): Promise<Response>;
  post(place: string, order: unknown): Promise<Response>;
  /** Stops what is being made. */
  close(): Promise<void>;
}

/** A folder that goes with `remove`, its real path. */
export async function temporaryFolder(): Promise<string> {
  return fs.realpath(await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-clips-')));
}

/** Opens it over `<folder>/data`, with `<folder>/card` allowed. */
export async function openServer(
  folder: string,
  change: Partial<WebContext> = {},
  runs?: RunSource,
  isBusy?: (clip: string) => boolean,
): Promise<ClipServer> {
  const dataDir = path.join(folder, 'data');
  const card = path.join(folder, 'card');
  await fs.mkdir(card, { recursive: true });
  const closing = new AbortController();
  const context: WebContext = {
    dataDir,
    outDir: path.join(folder, 'reports'),
    folders: [{ id: 'card', name: 'card', path: card }],
    maxUploadBytes: 50e6,
    tools,
    presets: DELIVERY_PRESETS,
    atOnce: 1,
    threads: 1,
    events: { publish: () => {} },
    signal: closing.signal,
    ...change,
  };
  const clips = await openClips(context);
  const app = new Hono().route('/api', clipRoutes(clips, runs, isBusy));
  app.onError((error, request) => answerProblem(request, error));
  const ask = async (place: string, init: RequestInit = {}): Promise<Response> =>
    app.request(`http://localhost/api${place}`, init);
  return {
    clips,
    dataDir,
    card,
    ask,
    put: (name, body, headers = {}) =>
      ask(`/clips?name=${encodeURIComponent(name)}`, {
        method: 'PUT',
        body,
        headers,
        duplex: 'half',
      }),
    post: (place, order) =>
      ask(place, {
        method: 'POST',
        body: JSON.stringify(order),
        headers: { 'Content-Type': 'application/json' },
      }),
    async close() {
      closing.abort();
      await clips.close();
    },
  };
}

/** The JSON of an answer that must be good. */
export async function good<T = ClipEntry>(answer: Response | Promise<Response>): Promise<T> {
  const response = await answer;
  const text = await response.text();
  if (!response.ok) throw new Error(`${response.status} ${text}`);
  return JSON.parse(text) as T;
}

/** Status, code and sentence of a refusal. */
export async function refusal(
  answer: Response | Promise<Response>,
): Promise<{ status: number; code: string; detail: string }> {
  const response = await answer;
  const { code, detail } = (await response.json()) as { code: string; detail: string };
  return { status: response.status, code, detail };
}

/** Every file below a folder, from there. */
export async function filesBelow(folder: string): Promise<string[]> {
  const entries = await fs.readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)))
    .sort();
}

/** Bytes as a body that comes in pieces and states no size. */
export function inPieces(
  bytes: Uint8Array,
  end: 'well' | 'broken' = 'well',
  pieceBytes = 65536,
): ReadableStream<Uint8Array> {
  let from = 0;
  return new ReadableStream<Uint8Array>({
    pull(controller) {
      if (from < bytes.length) {
        controller.enqueue(bytes.slice(from, from + pieceBytes));
        from += pieceBytes;
      } else if (end === 'well') controller.close();
      else controller.error(new Error('the connection was lost'));
    },
  });
}
