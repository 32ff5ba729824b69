/** Slow work for what is wanted last. */
import { expect, test } from 'vitest';
import { newestOnly } from '../../../src/web/page/trim/newest-only.js';

/** Work that ends when the test says so. */
function slowWork() {
  const begun: string[] = [];
  const told: (readonly [string, string | null])[] = [];
  const ends: ((fails: boolean) => void)[] = [];
  const work = newestOnly<string, string>(
    (wanted) => {
      begun.push(wanted);
      return new Promise((resolve, reject) =>
        ends.push((fails) => (fails ? reject(new Error('gone')) : resolve(`${wanted}!`))),
      );
    },
    (wanted, result) => told.push([wanted, result]),
  );
  const end = async (fails = false): Promise<void> => {
    ends.shift()?.(fails);
    await new Promise((resolve) => setTimeout(resolve, 0));
  };
  return { work, begun, told, end };
}

test('while one is in hand only the newest of those asked for is begun next', async () => {
  const { work, begun, told, end } = slowWork();
  for (const wanted of ['a', 'b', 'c', 'd']) work.want(wanted);
  expect(begun).toEqual(['a']);
  await end();
  expect(begun).toEqual(['a', 'd']);
  await end();
  expect(told).toEqual([
    ['a', 'a!'],
    ['d', 'd!'],
  ]);
});

test('a failure is told as nothing and does not stop the next', async () => {
  const { work, told, end } = slowWork();
  work.want('a');
  work.want('b');
  await end(true);
  await end();
  expect(told).toEqual([
    ['a', null],
    ['b', 'b!'],
  ]);
});

test('once closed nothing is told or begun', async () => {
  const { work, begun, told, end } = slowWork();
  work.want('a');
  work.want('b');
  work.close();
  await end();
  work.want('c');
  expect(begun).toEqual(['a']);
  expect(told).toEqual([]);
});
