/** A process that takes cases one after the other: its parent names them and kills it when one takes too long. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { findTools } from '../../src/footage/index.js';
import { makeCase, unexpected } from './cases.js';
import { makeCorpus } from './corpus.js';
import { judgeCase, measureOriginal, type Ending, type Original } from './judge-case.js';
import { LeakWatch, SEES_LEAKS } from './leak-watch.js';

/** What the parent says: the next case. */
export interface CaseRequest {
  readonly id: string;
}

/** What the worker answers. */
export interface CaseReply extends Ending {
  readonly id: string;
  readonly clip: string;
  readonly steps: readonly string[];
  readonly tookS: number;
  readonly residentMb: number;
}

/** Every so many measured cases a report is written as well. */
const REPORT_EACH = 12;

const [corpusFolder, ownFolder] = process.argv.slice(2);
const tools = await findTools();
const { clips } = await makeCorpus(corpusFolder, tools);
const originals = new Map<string, Promise<Original>>();
let stray: string | null = null;
for (const event of ['unhandledRejection', 'uncaughtException'] as const)
  process.on(event, (error: unknown) => (stray ??= `${event}: ${String((error as Error)?.stack ?? error)}`));

// What is loaded once, and held, is there before the watch begins.
await measureOriginal(clips[0].file, tools);
const watch = SEES_LEAKS ? new LeakWatch() : null;
let taken = 0;

async function take(id: string): Promise<CaseReply> {
  const { clip, extension, bytes, steps } = makeCase(id, clips);
  const file = path.join(ownFolder, `case-${id.replace(/\W/g, '-')}${extension}`);
  const startedMs = performance.now();
  await fs.writeFile(file, bytes);
  stray = null;
  try {
    const ending = await judgeCase(file, {
      tools,
      original() {
        const known = originals.get(clip.name) ?? measureOriginal(clip.file, tools);
        originals.set(clip.name, known);
        return known;
      },
      reportFolder: taken++ % REPORT_EACH === 0 ? path.join(ownFolder, 'report') : null,
    });
    const left = (await watch?.leak()) ?? null;
    // What could be thrown away and was not yet is no leak.
    (globalThis as { gc?: () => void }).gc?.();
    return {
      ...{ ...ending, id, clip: clip.name, steps },
      fault: ending.fault ?? unexpected(id, ending) ?? stray ?? left,
      tookS: (performance.now() - startedMs) / 1000,
      residentMb: process.memoryUsage.rss() / 1e6,
    };
  } finally {
    await fs.rm(file, { force: true });
  }
}

process.on('message', ({ id }: CaseRequest) => void take(id).then((reply) => process.send?.(reply)));
process.on('disconnect', () => process.exit());
process.send?.({ id: 'ready' });
