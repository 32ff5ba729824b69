/** `trundle serve`: what is refused before anything listens. That the address works is tested in a real browser. */
import os from 'node:os';
import { describe, expect, it } from 'vitest';
import { runWords } from '../support/recorded-io.js';

const CORES = os.availableParallelism();

describe('the options of the local page', () => {
  it.each([
    [['--port', 'high'], 'must be a whole number from 0 to 65535'],
    [['--port', '70000'], 'must be a whole number from 0 to 65535'],
    [['--listen', 'cart.local'], 'must be an address of this machine'],
    [['--listen', '0'], 'must be an address of this machine'],
    [['--max-upload', '20'], 'must be a size like 500MB or 20GB'],
    [['--max-upload', '0GB'], 'must be a size like 500MB or 20GB'],
    [['--at-once', '0'], `must be a whole number from 1 to ${CORES}`],
    [['--at-once', String(CORES + 1)], 'the cores of this machine'],
    [['--folder', '/nowhere/at all'], 'is not a folder'],
  ])('refuse %j with a sentence', async (words, sentence) => {
    const { status, err } = await runWords('serve', ...words);
    expect(status).toBe(2);
    expect(err).toContain(sentence);
    expect(err).toContain('[argument-invalid]');
  });
});
