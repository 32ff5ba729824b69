/**
 * A short round of damaged clips, always the same ones: each ends in a run whose figures are numbers or in one sentence with a code of
 * wrong input, and leaves nothing behind. `npm run fuzz` takes as many as one likes.
 */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findTools } from '../../src/footage/index.js';
import { makeCase, unexpected } from './cases.js';
import { makeCorpus, type SoundClip } from './corpus.js';
import { EXTREMES } from './extremes.js';
import { judgeCase, measureOriginal } from './judge-case.js';
import { LeakWatch, SEES_LEAKS } from './leak-watch.js';

const SEED = 1;
/** Of the first four hundred: one for each clip and way of being refused, and some that are measured, which take most of the time. */
const REFUSED = [
  ...[0, 2, 5, 7, 9, 12, 16, 22, 25, 46, 49, 59, 81, 94, 108, 116, 147, 192, 253, 264, 271, 365, 401],
];
const MEASURED = [56, 70, 73, 123, 221, 233, 250];
/** The clip whose undamaged figures the damaged ones are held against; it is measured once more for it. */
const HELD_AGAINST = 'mov-qtrle-alpha';

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-fuzz-'));
const usual = process.env.TMPDIR;
const tools = await findTools();
let clips: readonly SoundClip[] = [];
let watch: LeakWatch | null = null;
const originals = new Map<string, ReturnType<typeof measureOriginal>>();

function originalOf(clip: SoundClip): ReturnType<typeof measureOriginal> {
  const known = originals.get(clip.name) ?? measureOriginal(clip.file, tools);
  originals.set(clip.name, known);
  return known;
}

/** What is wrong with a case, with what was done to its clip; null when nothing is. */
async function faultOf(id: string): Promise<string | null> {
  const { clip, bytes, extension, steps } = makeCase(id, clips);
  const file = path.join(folder, `case${extension}`);
  fs.writeFileSync(file, bytes);
  const ending = await judgeCase(file, {
    tools,
    original: clip.name === HELD_AGAINST ? () => originalOf(clip) : null,
    reportFolder: id.endsWith('0') ? path.join(folder, 'report') : null,
  });
  const wrong = ending.fault ?? unexpected(id, ending) ?? (await watch?.leak()) ?? null;
  return wrong && `${clip.name} ${steps.join('; ')}: ${wrong}`;
}

beforeAll(async () => {
  const scratch = path.join(folder, 'tmp');
  fs.mkdirSync(scratch);
  process.env.TMPDIR = scratch;
  clips = (await makeCorpus(path.join(folder, 'corpus'), tools)).clips;
  const held = clips.find(({ name }) => name === HELD_AGAINST);
  if (held) {
    await originalOf(held);
    // A first report as well: it starts the threads of the image library, which stay.
    await judgeCase(held.file, { tools, original: null, reportFolder: path.join(folder, 'report') });
  }
  watch = SEES_LEAKS ? new LeakWatch() : null;
});
afterAll(() => {
  if (usual === undefined) delete process.env.TMPDIR;
  else process.env.TMPDIR = usual;
  fs.rmSync(folder, { recursive: true, force: true });
});

describe('a clip that claims what cannot be', () => {
  it.each(EXTREMES.filter(({ inShort }) => inShort).map(({ name }) => name))('ends well: %s', async (name) =>
    expect(await faultOf(`extreme:${name}`)).toBeNull(),
  );
});

describe('a clip damaged at random', () => {
  it.each([...REFUSED, ...MEASURED].map((index) => `${SEED}:${index}`))('ends well: %s', async (id) =>
    expect(await faultOf(id)).toBeNull(),
  );
});

describe('the round itself', () => {
  it('makes the same damage again from the same seed', () => {
    for (const index of [3, 8, 12]) {
      const [once, again] = [makeCase(`5:${index}`, clips), makeCase(`5:${index}`, clips)];
      expect(again.bytes.equals(once.bytes)).toBe(true);
      expect(again.steps).toEqual(once.steps);
      expect(once.bytes.equals(once.clip.bytes)).toBe(false);
    }
  });

  it.runIf(SEES_LEAKS)('sees a program and a file that are left behind', async () => {
    const fresh = new LeakWatch();
    expect(await fresh.leak(0)).toBeNull();
    const left = spawn('sleep', ['60'], { stdio: 'ignore' });
    expect(await fresh.leak(0)).toMatch(/programs still run: sleep/);
    const gone = new Promise((resolve) => left.once('exit', resolve));
    left.kill();
    await gone;
    const file = path.join(os.tmpdir(), 'left.raw');
    fs.writeFileSync(file, '');
    expect(await fresh.leak(0)).toMatch(/left\.raw/);
    fs.rmSync(file);
    expect(await fresh.leak(0)).toBeNull();
  });
});
