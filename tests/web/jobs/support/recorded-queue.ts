/** A queue in a folder of its own whose events are written down, with clips that are nothing but names. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { DELIVERY_PRESETS } from '../../../../src/judge/index.js';
import type { Job, PageEvents, Settings } from '../../../../src/web/api.js';
import { openJobs, type JobQueue } from '../../../../src/web/jobs/index.js';
import type { WorkerMeans } from '../../../../src/web/jobs/work-process.js';
import type { ClipLookup, KnownClip, WebContext } from '../../../../src/web/server/context.js';
import { WebProblem } from '../../../../src/web/server/problem.js';

/** One event as it was published. */
export interface Told {
  readonly name: keyof PageEvents;
  readonly data: unknown;
}

/** A queue under test. */
export interface RecordedQueue {
  readonly queue: JobQueue;
  readonly folder: string;
  readonly outDir: string;
  readonly dataDir: string;
  readonly told: readonly Told[];
  /** Checksums that were noted, by clip. */
  readonly noted: ReadonlyMap<string, string>;
  readonly remembered: readonly Settings[];
  /** Clips that can be asked for; id, name and path by default of the same word. */
  readonly clips: Map<string, KnownClip>;
  /** Resolves once a job is as wanted; rejects after `withinMs`. */
  until(id: string, is: (job: Job) => boolean, withinMs?: number): Promise<Job>;
  /** Closes the queue and takes its folder away. */
  close(): Promise<void>;
}

/**
 * Opens one.
 * @param meansIn worker to use, given the folder of the queue
 * @param left folder that an earlier one had; this one gets what stands in it by now, as after a power cut
 */
export async function recordedQueue(
  meansIn: (folder: string) => WorkerMeans,
  changes: Partial<WebContext> = {},
  left: string | null = null,
): Promise<RecordedQueue> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-jobs-'));
  if (left !== null) fs.cpSync(left, folder, { recursive: true });
  const told: Told[] = [];
  const noted = new Map<string, string>();
  const remembered: Settings[] = [];
  const clips = new Map<string, KnownClip>(
    ['hall', 'loft', 'rail'].map((id) => [
      id,
      { id, name: `${id}.mp4`, path: path.join(folder, `${id}.mp4`), origin: 'folder' },
    ]),
  );
  const lookup: ClipLookup = {
    find(id) {
      const clip = clips.get(id);
      if (clip) return clip;
      throw new WebProblem(404, 'clip-unknown', 'This clip is not there any more.');
    },
    ofSha256: (sha256) =>
      Promise.resolve([...clips.values()].find(({ id }) => noted.get(id) === sha256) ?? null),
    remember(id, sha256) {
      noted.set(id, sha256);
      return Promise.resolve();
    },
    forget: () => Promise.resolve(),
  };
  const context: WebContext = {
    dataDir: path.join(folder, 'data'),
    outDir: path.join(folder, 'reports'),
    folders: [],
    maxUploadBytes: 1e9,
    tools: { ffmpeg: { path: 'ffmpeg', version: '0' }, ffprobe: { path: 'ffprobe', version: '0' } } as never,
    presets: DELIVERY_PRESETS,
    atOnce: 1,
    threads: 2,
    events: { publish: (name, data) => void told.push({ name, data }) },
    signal: new AbortController().signal,
    ...changes,
  };
  const queue = await openJobs(
    context,
    lookup,
    { remember: (settings) => void remembered.push(settings) },
    meansIn(folder),
  );
  queue.goOn();
  const jobNow = (id: string): Job | undefined => queue.list().find((job) => job.id === id);
  return {
    ...{ queue, folder, outDir: context.outDir, dataDir: context.dataDir, told, noted, remembered, clips },
    async until(id, is, withinMs = 10_000) {
      for (const deadlineMs = performance.now() + withinMs; performance.now() < deadlineMs;) {
        const job = jobNow(id);
        if (job && is(job)) return job;
        await new Promise((resolve) => setTimeout(resolve, 10));
      }
      throw new Error(`Not in time; the job is ${JSON.stringify(jobNow(id))}`);
    },
    async close() {
      await queue.close();
      fs.rmSync(folder, { recursive: true, force: true });
    },
  };
}
