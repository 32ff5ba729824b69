/** Measuring a clip opens this one file: whatever it says, no other file of the disk and no address. */
import { execFile } from 'node:child_process';
import { readFileSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import path from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { decodeGrey, probeClip, type ClipFacts } from '../../src/footage/index.js';
import { TrundleError } from '../../src/run/index.js';
import { clipFolder, makeClip, testSource, tools } from '../footage/made-clips.js';
import { LURES, writeLure, type Bait } from './support/luring-files.js';

const run = promisify(execFile);
const folder = clipFolder();
const LONG_AGO = new Date('2001-01-01');

let visits = 0;
const listener = createServer((socket) => {
  visits++;
  socket.destroy();
});
let bait: Bait;
let plain: ClipFacts;

/** Whether anything was read of the hidden file; file systems note the first reading after a change. */
const wasRead = (): boolean => statSync(bait.hidden).atimeMs > LONG_AGO.getTime();
const forget = (): void => {
  visits = 0;
  utimesSync(bait.hidden, LONG_AGO, new Date());
};

/** Reads a file as the program does. @returns what a person is told, null when it was taken for a clip */
async function told(file: string, facts?: ClipFacts): Promise<string | null> {
  try {
    const known = facts ?? (await probeClip(file, tools));
    for await (const frame of decodeGrey(file, known, {}, tools)) expect(frame.index).toBeLessThan(100);
    return null;
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    return `${error.message} [${error.code}]`;
  }
}

beforeAll(async () => {
  await new Promise<void>((resolve) => listener.listen(0, '127.0.0.1', resolve));
  const hidden = path.join(folder, 'hidden12.mkv');
  bait = { folder, hidden, port: (listener.address() as AddressInfo).port };
  await makeClip(hidden, ...testSource(64, 48, '10', 0.5), '-c:v', 'mpeg4');
  // What an index of subtitles names by its own name.
  writeFileSync(path.join(folder, 'lure.sub'), readFileSync(hidden));
  const clip = await makeClip(path.join(folder, 'plain.mp4'), ...testSource(64, 48, '10', 0.5));
  plain = await probeClip(clip, tools);
});
afterAll(() => listener.close());

describe('a file that names another', () => {
  it('is followed by FFmpeg without limits, so these traps do catch', async () => {
    forget();
    const everything = [
      '-protocol_whitelist',
      'file,http,tcp,crypto,concat,subfile',
      '-allowed_extensions',
      'ALL',
    ];
    const follow = async (kind: string, ...options: string[]): Promise<void> => {
      const lure = LURES.find((one) => one.kind === kind)!;
      const file = await writeLure(bait, lure, `lure.${lure.ending}`);
      await run(tools.ffmpeg.path, ['-v', 'quiet', ...options, '-i', file, '-f', 'null', '-']).catch(
        () => {},
      );
    };
    await follow('a playlist that names an address', ...everything);
    expect(visits).toBeGreaterThan(0);
    await follow('a playlist that names a file', ...everything);
    expect(wasRead()).toBe(true);
    forget();
    await follow(
      'a movie whose pictures lie in another file',
      '-enable_drefs',
      '1',
      '-use_absolute_path',
      '1',
    );
    expect(wasRead()).toBe(true);
  });

  it.each(LURES)('neither opens that nor an address: $kind', async (lure) => {
    forget();
    for (const name of [`lure.${lure.ending}`, 'lure.mp4']) {
      const file = await writeLure(bait, lure, name);
      const said = await told(file);
      // A clip that only mentions another is a clip.
      if (lure.ending !== 'mkv')
        expect(said).toMatch(/lure\.\w+".*[;.] .* \[(clip-unreadable|clip-unsupported|decode-failed)\]$/s);
      expect(said?.length ?? 0).toBeLessThan(400);
      // As if the file had been changed after it was looked at.
      if (lure.ending !== 'mkv') expect(await told(file, plain)).not.toBeNull();
    }
    expect({ visits, wasRead: wasRead() }).toEqual({ visits: 0, wasRead: false });
  });

  it('says of a playlist what it is', async () => {
    const file = await writeLure(bait, LURES[0], 'day 2.m3u8');
    expect(await told(file)).toContain(
      'it is a list that names other files or addresses, and these are not opened; name the clip itself',
    );
  });
});

describe('a name that means many files', () => {
  it('is the name of one file', async () => {
    const numbered = path.join(folder, 'shot01.png');
    await makeClip(numbered, ...testSource(64, 48, '10', 0.1), '-frames:v', '1');
    const pattern = path.join(folder, 'shot%02d.png');
    expect(await told(pattern)).toMatch(/\[clip-(missing|unsupported)\]$/);
    writeFileSync(pattern, readFileSync(numbered));
    utimesSync(numbered, LONG_AGO, new Date());
    expect(await told(pattern)).not.toBeNull();
    expect(statSync(numbered).atimeMs).toBe(LONG_AGO.getTime());
  });
});

describe('a codec that no camera writes', () => {
  it('is not decoded, and the sentence says what to do', async () => {
    const file = await makeClip(
      path.join(folder, 'odd.avi'),
      ...testSource(64, 48, '10', 0.5),
      '-c:v',
      'zmbv',
    );
    expect(await told(file)).toMatch(
      /coded as zmbv, .*; export it as H\.264 or ProRes\. \[clip-unreadable\]$/,
    );
    expect(await told(file, plain)).toMatch(/\[decode-failed\]$/);
  });

  it('does not spoil a clip when its sound is coded so', async () => {
    const file = path.join(folder, 'odd-sound.mkv');
    await makeClip(
      file,
      ...testSource(64, 48, '10', 0.5),
      '-f',
      'lavfi',
      '-i',
      'sine=duration=0.5',
      '-c:v',
      'mpeg4',
      ...['-c:a', 'real_144', '-ar', '8000', '-ac', '1'],
    );
    const warnings: string[] = [];
    let count = 0;
    const facts = await probeClip(file, tools);
    for await (const frame of decodeGrey(
      file,
      facts,
      { onWarning: ({ code }) => warnings.push(code) },
      tools,
    ))
      count = frame.index + 1;
    expect(count).toBe(5);
    expect(warnings).toEqual([]);
  });
});
