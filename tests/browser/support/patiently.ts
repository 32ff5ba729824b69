/** Asks again and again until something holds, for as long as it may take on a busy machine. */
import { expect } from 'vitest';

/** What is awaited in a page comes at once on an idle machine, ms. */
const PATIENCE_MS = 20_000;

/** Expects it of what `find` comes to give. @param intervalMs between two looks */
export function patiently<T>(find: () => T | Promise<T>, intervalMs = 40): ReturnType<typeof expect.poll<T>> {
  return expect.poll(find, { timeout: PATIENCE_MS, interval: intervalMs });
}
