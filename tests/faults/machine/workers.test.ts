/** Worker threads that are killed, throw, cannot be loaded or run out of memory while a clip is tracked or rendered: nothing hangs, and each is told. */
import { describe, expect, it } from 'vitest';
import { makeFrames, type FrameErrand } from '../../../src/proof/frame-pool.js';
import type { FrameRecipe } from '../../../src/proof/frame-maker.js';
import { TrundleError } from '../../../src/run/index.js';
import { WorkerPool } from '../../../src/tracking/worker-pool.js';
import { stepInto } from '../../tracking/support/step-errand.js';
import { tell } from '../../../src/cli/io.js';

/** A worker that does this at its first errand. @param first what it says when it has started */
function workerThat(does: string, first = ''): URL {
  const text = `import { parentPort } from 'node:worker_threads';
    parentPort.on('message', () => { ${does} });
    ${first}`;
  return new URL(`data:text/javascript,${encodeURIComponent(text)}`);
}

const READY = "parentPort.postMessage({ kind: 'ready' });";
const MEMORY = 'const hoard = []; for (;;) hoard.push(new Array(1000).fill(hoard.length));';
const FAULTS: readonly (readonly [string, string, RegExp, string])[] = [
  ['killed', 'process.exit(9);', /stopped in the middle of the clip \(status 9\)/, 'fault'],
  ['thrown out of its work', 'throw new Error("a broken lens");', /a broken lens/, 'fault'],
  ['out of memory', MEMORY, /ran out of memory.*close other programs.*--in and --out/, 'memory-short'],
];

/** What the person at the terminal reads. */
function printed(error: unknown): string {
  let said = '';
  const io = { out: () => {}, err: (text: string) => (said += text), interactive: false, colour: false };
  expect(tell(error, { ...io, signal: new AbortController().signal })).toBe(70);
  return said;
}

const SIZE = { widthPx: 16, heightPx: 9 };

describe('a tracking worker', () => {
  it.each(FAULTS)('%s: what waits for it ends, with a sentence', async (_, does, sentence, code) => {
    const pool = await WorkerPool.start({
      ...SIZE,
      threads: 2,
      workerUrl: workerThat(does, READY),
      heapMb: 24,
    });
    const error = await pool.step(stepInto(new Uint8Array(144))).then(
      () => null,
      (failure: unknown) => failure,
    );
    expect(printed(error)).toMatch(sentence);
    expect(printed(error)).toMatch(new RegExp(`\\[${code}\\]`));
    expect(printed(error)).not.toMatch(/\n\s+at /);
    // Each of the two workers may be the first to be heard of: the sentence is the same.
    await expect(pool.step(stepInto(new Uint8Array(144)))).rejects.toThrow((error as Error).message);
    await pool.close();
  });

  it('that answers with a failure and where it arose: the sentence alone is printed', async () => {
    const does = 'parentPort.postMessage({ kind: "failed", message: "no room\\n    at place (file.js:1)" })';
    const pool = await WorkerPool.start({ ...SIZE, threads: 1, workerUrl: workerThat(does, READY) });
    const error: unknown = await pool
      .step(stepInto(new Uint8Array(144)))
      .catch((failure: unknown) => failure);
    expect(printed(error)).toMatch(/A tracking worker failed: no room \[fault\]/);
    expect(printed(error)).not.toMatch(/file\.js/);
    await pool.close();
  });

  it('that cannot be loaded: said at the start', async () => {
    const workerUrl = new URL('data:text/javascript,this is no program');
    await expect(WorkerPool.start({ ...SIZE, threads: 1, workerUrl })).rejects.toThrow(
      /A tracking worker died/,
    );
  });
});

describe('a rendering worker', () => {
  /** Frames without end: only the failure ends the rendering. */
  async function* frames(onEnd: () => void): AsyncGenerator<FrameErrand> {
    try {
      for (let i = 0; ; i++) {
        await Promise.resolve();
        yield { planes: [new Uint8Array(16)], timeS: i / 25 };
      }
    } finally {
      onEnd();
    }
  }

  it.each(FAULTS)(
    '%s: the rendering ends, and with it the decoding, with a sentence',
    async (_, does, sentence, code) => {
      let closed = false;
      const made = makeFrames(
        {} as FrameRecipe,
        frames(() => (closed = true)),
        {
          ...{ threads: 2, workerUrl: workerThat(does), heapMb: 24 },
        },
      );
      const error: unknown = await made.next().catch((failure: unknown) => failure);
      expect(printed(error)).toMatch(sentence);
      expect(printed(error)).toMatch(new RegExp(`\\[${code}\\]`));
      expect(closed).toBe(true);
      expect((await made.next()).done).toBe(true);
    },
  );
});

describe('memory of the program itself', () => {
  it('an array that finds no room: told as such', () => {
    const error = new RangeError('Array buffer allocation failed');
    expect(printed(error)).toMatch(/This machine ran out of memory.*\[memory-short\]/);
    expect(error).not.toBeInstanceOf(TrundleError);
  });
});
