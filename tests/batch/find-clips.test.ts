/** Which files of a folder are clips to be measured, where their reports go, and when a clip that is being copied is whole. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listClips, sortPlaces } from '../../src/batch/clip-list.js';
import { findClips } from '../../src/batch/find-clips.js';
import { ReportPlaces } from '../../src/batch/index.js';
import { watchFolders } from '../../src/batch/watch-folders.js';

let folder = '';
beforeEach(() => (folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-find-'))));
afterEach(() => fs.rmSync(folder, { recursive: true, force: true }));

function put(name: string, content: string | Uint8Array = 'x'): string {
  const place = path.join(folder, name);
  fs.mkdirSync(path.dirname(place), { recursive: true });
  fs.writeFileSync(place, content);
  return place;
}

const RUN = (sha256: string): string =>
  `${JSON.stringify({ schema: 'trundle-run/1', tool: {}, clip: { sha256 } }, null, 2)}\n`;

describe('clips of a folder', () => {
  const found = async (recursive: boolean, leaveOut: string[] = []): Promise<string[]> =>
    (await findClips(folder, { recursive, leaveOut })).clips.map(({ relative }) => relative);

  it('come in the order of their names, files before folders, numbers by value', async () => {
    for (const name of ['day 10/A.mov', 'day 2/A.MXF', 'B10.mov', 'B9.mov', 'notes.txt', 'day 2/deep/C.mp4'])
      put(name);
    expect(await found(true)).toEqual([
      'B9.mov',
      'B10.mov',
      'day 2/A.MXF',
      'day 2/deep/C.mp4',
      'day 10/A.mov',
    ]);
    expect(await found(false)).toEqual(['B9.mov', 'B10.mov']);
  });

  it('are not what is hidden, what this program made, and texts of programs', async () => {
    const packets = new Uint8Array(188 * 8).map((_, i) => (i % 188 === 0 ? 0x47 : 0));
    for (const name of ['.A.mov', '.trash/A.mov', 'out/x/A.mov', 'proof.mp4', 'main.ts', 'pass/A.mov'])
      put(name);
    put('pass/run.json', RUN('ab'));
    put('other/run.json', '{"dogs": 3}');
    put('other/B.mov');
    put('card.mts', packets);
    expect(await found(true, [path.join(folder, 'out')])).toEqual(['card.mts', 'other/B.mov']);
  });

  it('are found when reports go into the very folder that is asked for', async () => {
    put('A.mov');
    expect(await found(true, [folder])).toEqual(['A.mov']);
  });

  it.skipIf(process.platform === 'win32')(
    'are found behind links, once, and a circle of links ends',
    async () => {
      put('day/A.mov');
      fs.symlinkSync('..', path.join(folder, 'day/up'));
      fs.symlinkSync('day', path.join(folder, 'again'));
      fs.symlinkSync('nowhere.mov', path.join(folder, 'lost.mov'));
      expect(await found(true)).toEqual(['lost.mov', 'again/A.mov']);
    },
  );

  it('are told where they have no ending of clips, and nothing else is', async () => {
    const box = (type: string, brand = ''): string => `\0\0\0\x18${type}${brand}`;
    put('CLIP0001', box('ftyp', 'qt  '));
    put('day/odd name.clip', box('moov'));
    put('pass.mov.bak', Buffer.from('\x1aE\xdf\xa3', 'latin1'));
    // Sidecars, sound, still pictures, what is hidden, and what is any other file.
    for (const name of ['CLIP0001.XML', 'CLIP0001.m4a', '.CLIP0002', 'sound', 'still', 'README'])
      put(name, box('ftyp', name === 'sound' ? 'M4A ' : name === 'still' ? 'heic' : 'qt  '));
    put('README', 'for the crew');
    put('empty', '');
    const { unnamed, clips } = await listClips(await sortPlaces([folder]), { recursive: true });
    expect(unnamed.map((file) => path.relative(folder, file).replaceAll(path.sep, '/'))).toEqual([
      ...['CLIP0001', 'pass.mov.bak', 'day/odd name.clip'],
    ]);
    expect(clips).toEqual([]);
  });

  it('are listed once, and a folder without any is told with what to do', async () => {
    const clip = put('card/A.mov');
    put('empty/deep/B.mov');
    for (const name of ['1.png', '2.png']) put(`pictures/${name}`);
    const places = [clip, ...['card', 'empty', 'pictures', 'none'].map((name) => path.join(folder, name))];
    const { clips, failures } = await listClips(await sortPlaces(places), { recursive: false });
    // What is not there is told when it is to be measured.
    expect(clips.map(({ relative }) => relative)).toEqual(['card/A.mov', 'none']);
    expect(failures.map(({ failure }) => failure.message)).toEqual([
      expect.stringMatching(
        /no clip in the folder ".*empty": no file with an ending of clips.*; --recursive looks/,
      ),
      expect.stringMatching(/row of single pictures/),
    ]);
  });
});

describe('places of reports', () => {
  it('mirror the folders of the clips, and no two clips share one', async () => {
    const places = new ReportPlaces(folder);
    for (const relative of ['day/A.mov', 'A/B.mov', 'A.mov']) places.expect(relative);
    const of = async (relative: string, sum: string): Promise<string> =>
      path.relative(folder, await places.of(relative, sum)).replaceAll(path.sep, '/');
    expect(await of('day/A.mov', 'one')).toBe('day/A');
    expect(await of('day/a.mp4', 'two')).toBe('day/a-2');
    expect(await of('day/A.mov', 'one')).toBe('day/A');
    // Reports of the clips in the folder "A" go into the folder "A".
    expect(await of('A.mov', 'three')).toBe('A-2');
    expect(await of('A/B.mov', 'four')).toBe('A/B');
    expect(await of('...mov', 'five')).toBe('clip');
  });

  it('are those of an earlier run of the same bytes, never those of another clip or of somebody else', async () => {
    put('A/run.json', RUN('one'));
    put('B/notes.txt');
    put('C', 'a file');
    const places = new ReportPlaces(folder);
    expect(await places.of('A.mov', 'one')).toBe(path.join(folder, 'A'));
    expect(await new ReportPlaces(folder).of('A.mov', 'two')).toBe(path.join(folder, 'A-2'));
    expect(await places.of('B.mov', 'two')).toBe(path.join(folder, 'B-2'));
    expect(await places.of('C.mov', 'three')).toBe(path.join(folder, 'C-2'));
  });
});

describe('a folder that is watched', () => {
  it(
    'gives what is there, and what comes once it is still; what changes later comes again',
    { timeout: 20_000 },
    async () => {
      const stop = new AbortController();
      put('A.mov');
      put('out/B.mov');
      put('empty.mov', '');
      const came: string[] = [];
      const growth = setInterval(() => {
        if (came.length === 1) fs.appendFileSync(path.join(folder, 'grows.mov'), 'more');
      }, 20);
      let grewMs = 0;
      for await (const clips of watchFolders([folder], {
        ...{ recursive: true, leaveOut: [path.join(folder, 'out')], signal: stop.signal },
        ...{ settleMs: 200, everyMs: 30, onBarred: () => {} },
      })) {
        came.push(...clips.map(({ relative }) => relative));
        if (came.length === 1)
          setTimeout(() => {
            // Still being copied all this time.
            expect(came).toEqual(['A.mov']);
            clearInterval(growth);
            grewMs = performance.now();
          }, 700);
        if (came.length === 2) {
          expect(performance.now() - grewMs).toBeGreaterThan(150);
          fs.appendFileSync(path.join(folder, 'A.mov'), 'more');
        }
        if (came.length === 3) stop.abort();
      }
      clearInterval(growth);
      expect(came).toEqual(['A.mov', 'grows.mov', 'A.mov']);
    },
  );

  it('is told once when it cannot be looked into', async () => {
    const stop = new AbortController();
    const told: string[] = [];
    setTimeout(() => stop.abort(), 300);
    const none = path.join(folder, 'none');
    const options = { recursive: false, signal: stop.signal, everyMs: 20 };
    for await (const clips of watchFolders([none], { ...options, onBarred: ({ path: at }) => told.push(at) }))
      expect(clips).toEqual([]);
    expect(told).toEqual([none]);
  });
});
