import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readOtherSurface } from '../src/read-other-surface.js';
import { TrundleError } from '../src/run/index.js';
import { madeUpRun } from './report/support/made-up-run.js';

let folder = '';

beforeAll(async () => {
  folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-boards-'));
});

afterAll(async () => {
  await fs.rm(folder, { recursive: true });
});

async function stored(name: string, content: string): Promise<string> {
  const place = path.join(folder, name);
  await fs.mkdir(place, { recursive: true });
  await fs.writeFile(path.join(place, 'run.json'), content);
  return place;
}

async function codeOf(place: string): Promise<string> {
  const error: unknown = await readOtherSurface(place).catch((caught: unknown) => caught);
  expect(error).toBeInstanceOf(TrundleError);
  return (error as TrundleError).code;
}

describe('a surface measured on another run', () => {
  it('is read from its report folder or its run.json, and named after its clip', async () => {
    const run = madeUpRun();
    const place = await stored('boards', JSON.stringify(run));
    for (const given of [place, path.join(place, 'run.json')]) {
      const other = await readOtherSurface(given);
      expect(other.surface).toEqual(run.surface);
      expect(run.clip.file).toContain(other.name);
      expect(other.name).not.toContain('.');
    }
  });

  it('is refused where there is none, in one sentence that says what to give', async () => {
    expect(await codeOf(path.join(folder, 'nowhere'))).toBe('run-unreadable');
    expect(await codeOf(await stored('text', 'no JSON'))).toBe('run-invalid');
    expect(await codeOf(await stored('old', '{"schema":"trundle-run/1"}'))).toBe('run-invalid');
  });

  it('is refused when its run saw nothing of it, with the reason that the run gave', async () => {
    const run = madeUpRun((one) => {
      one.surface.observable = false;
      one.surface.reason = 'Give the wheelbase.';
    });
    const place = await stored('unseen', JSON.stringify(run));
    await expect(readOtherSurface(place)).rejects.toThrow(/Give the wheelbase/);
  });

  it('is taken when its run only bounds it: the table says so in its row', async () => {
    const place = await stored('bound', JSON.stringify(madeUpRun((one) => (one.surface.atMost = true))));
    expect((await readOtherSurface(place)).surface.atMost).toBe(true);
  });
});
