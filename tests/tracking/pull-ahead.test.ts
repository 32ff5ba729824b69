/** Reading ahead: order, ends, failures, and that what was used is let go. */
import { expect, it } from 'vitest';
import { PullAhead } from '../../src/tracking/pull-ahead.js';

async function* upTo(count: number, made: (n: number) => void): AsyncGenerator<number> {
  for (let n = 0; n < count; n++) {
    made(n);
    yield await Promise.resolve(n);
  }
}

it('gives all items in order, asks for some before they are wanted, and ends', async () => {
  let made = -1;
  const source = new PullAhead(
    upTo(6, (n) => (made = n)),
    undefined,
  );
  expect(await source.take()).toBe(0);
  await new Promise(setImmediate);
  expect(made).toBeGreaterThan(1);
  expect(made).toBeLessThan(5);
  const rest: (number | undefined)[] = [];
  for (let i = 0; i < 7; i++) rest.push(await source.take());
  expect(rest).toEqual([1, 2, 3, 4, 5, undefined, undefined]);
  await source.stop();
});

it('reports the failure of the producer in its turn', async () => {
  async function* failing(): AsyncGenerator<number> {
    yield 1;
    await Promise.resolve();
    throw new Error('the disk is gone');
  }
  const source = new PullAhead(failing(), undefined);
  expect(await source.take()).toBe(1);
  await expect(source.take()).rejects.toThrow('the disk is gone');
  await source.stop();
});

it.each(['before', 'while'] as const)('ends with a sentence when stopped %s it waits', async (when) => {
  const controller = new AbortController();
  async function* hanging(): AsyncGenerator<number> {
    await new Promise(() => undefined);
    yield 1;
  }
  if (when === 'before') controller.abort();
  const source = new PullAhead(hanging(), controller.signal);
  const taken = source.take();
  controller.abort();
  await expect(taken).rejects.toMatchObject({ code: 'interrupted' });
  await source.stop();
});

it('holds no item that was used', async () => {
  const BYTES = 1_000_000;
  async function* frames(): AsyncGenerator<Uint8Array> {
    for (let n = 0; n < 400; n++) yield await Promise.resolve(new Uint8Array(BYTES));
  }
  const source = new PullAhead(frames(), new AbortController().signal);
  const heldBefore = process.memoryUsage().arrayBuffers;
  while (await source.take());
  // The collector runs by itself long before 400 MB; with an item held, nothing of them would ever go.
  expect(process.memoryUsage().arrayBuffers - heldBefore).toBeLessThan(300 * BYTES);
  await source.stop();
});
