import { execFileSync } from 'node:child_process';
import fs from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FolderListing } from '../../../src/web/api.js';
import {
  CORRIDOR,
  filesBelow,
  good,
  openServer,
  refusal,
  temporaryFolder,
  type ClipServer,
} from './support/clip-server.js';

let folder: string;
let server: ClipServer;

beforeAll(async () => {
  folder = await temporaryFolder();
  const card = path.join(folder, 'card');
  await fs.mkdir(path.join(card, 'day 2', 'roll A'), { recursive: true });
  await fs.mkdir(path.join(card, '.trash'));
  await fs.mkdir(path.join(folder, 'private'));
  await fs.copyFile(CORRIDOR, path.join(card, 'day 2', 'tiled corridor.mp4'));
  await fs.copyFile(
    CORRIDOR.replace('.mp4', '.rig.json'),
    path.join(card, 'day 2', 'tiled corridor.rig.json'),
  );
  await fs.copyFile(CORRIDOR, path.join(folder, 'private', 'secret.mp4'));
  for (const name of ['take 10.MOV', 'take 9.mov', '-map.mkv', '.hidden.mp4', 'notes.txt', 'still.jpg'])
    await fs.writeFile(path.join(card, name), 'no clip at all');
  await fs.symlink(path.join(folder, 'private'), path.join(card, 'way out'));
  await fs.symlink(path.join(folder, 'private', 'secret.mp4'), path.join(card, 'way out.mp4'));
  await fs.symlink(path.join(card, 'day 2'), path.join(card, 'today'));
  await fs.symlink(path.join(folder, 'nowhere'), path.join(card, 'broken'));
  server = await openServer(folder);
});

afterAll(async () => {
  await server.close();
  await fs.rm(folder, { recursive: true, force: true });
});

const list = (given: string) => server.ask(`/folders/card?path=${encodeURIComponent(given)}`);
const take = (given: string) => server.post('/clips/from-folder', { folder: 'card', path: given });

describe('a folder that clips may be taken from', () => {
  it('lists folders and what may be a clip in the order people count; hidden ones and ways out are left out', async () => {
    const listing = await good<FolderListing>(list(''));
    expect(listing.folder.id).toBe('card');
    expect(listing.folders).toEqual(['day 2', 'today']);
    expect(listing.clips.map(({ name }) => name)).toEqual(['-map.mkv', 'take 9.mov', 'take 10.MOV']);
    expect(listing.more).toBe(0);
    const below = await good<FolderListing>(list('day 2'));
    expect(below).toMatchObject({ path: 'day 2', folders: ['roll A'], more: 0 });
    const { size } = await fs.stat(CORRIDOR);
    expect(below.clips).toMatchObject([{ name: 'tiled corridor.mp4', sizeBytes: size, hasRig: true }]);
  });

  it('lists a file of an ending that programs have, too, only where it holds packets of a transport stream', async () => {
    const place = path.join(folder, 'card', 'mixed');
    await fs.mkdir(place);
    const packets = Buffer.alloc(8 * 188);
    for (let k = 0; k < 8; k++) packets[k * 188] = 0x47;
    const onDisc = Buffer.alloc(8 * 192);
    for (let k = 0; k < 8; k++) onDisc[k * 192 + 4] = 0x47;
    await fs.writeFile(path.join(place, 'loft.ts'), packets);
    await fs.writeFile(path.join(place, 'hall.MTS'), onDisc);
    await fs.writeFile(path.join(place, 'strip.ts'), 'export const cells = 12;\n');
    await fs.writeFile(path.join(place, 'config.mts'), '');
    const { clips } = await good<FolderListing>(list('mixed'));
    expect(clips.map(({ name, hasRig }) => [name, hasRig])).toEqual([
      ['hall.MTS', false],
      ['loft.ts', false],
    ]);
    await fs.rm(place, { recursive: true });
  });

  it('lists 500 names at most and says how many more there are', async () => {
    const many = path.join(folder, 'card', 'day 2', 'roll A');
    await Promise.all(
      Array.from({ length: 503 }, (_, k) => fs.writeFile(path.join(many, `take ${k}.mp4`), '')),
    );
    const { clips, more } = await good<FolderListing>(list('day 2/roll A'));
    expect([clips.length, clips[499].name, more]).toEqual([500, 'take 499.mp4', 3]);
  });

  it.each([
    '..',
    '../private',
    'day 2/../../private',
    '/etc',
    'way out',
    '.',
    'day 2/./roll A',
    'a\0b',
    '.trash',
    'day 2/.cache',
  ])('refuses to list %j', async (given) => {
    expect(await refusal(list(given))).toMatchObject({ status: 403, code: 'path-outside' });
  });

  it.each([
    '../private/secret.mp4',
    '/etc/passwd',
    'way out.mp4',
    'way out/secret.mp4',
    'day 2/../../private/secret.mp4',
    '..\\private\\secret.mp4',
    '.trash/take.mp4',
  ])('gives no clip of %j', async (given) => {
    expect(await refusal(take(given))).toMatchObject({ status: 403, code: 'path-outside' });
  });

  it('says what is not there', async () => {
    expect(await refusal(server.ask('/folders/other?path='))).toMatchObject({
      status: 404,
      code: 'folder-unknown',
    });
    expect(await refusal(list('day 3'))).toMatchObject({
      status: 404,
      code: 'folder-missing',
      detail: expect.stringContaining('"card/day 3"') as string,
    });
    expect(await refusal(take('day 2/other.mp4'))).toMatchObject({ status: 404, code: 'file-missing' });
    expect(await refusal(take('day 2'))).toMatchObject({ status: 404, code: 'file-missing' });
    expect(await refusal(server.post('/clips/from-folder', { folder: 'card' }))).toMatchObject({
      status: 400,
      code: 'order-invalid',
    });
    expect(await refusal(server.post('/clips/from-folder', 'card'))).toMatchObject({
      status: 400,
      code: 'order-invalid',
    });
  });

  it('does not wait for a pipe', async () => {
    execFileSync('mkfifo', [path.join(folder, 'card', 'day 2', 'pipe.mp4')]);
    expect(await refusal(take('day 2/pipe.mp4'))).toMatchObject({ status: 404, code: 'file-missing' });
  });

  it('does not wait for a pipe in place of a rig file', async () => {
    const clip = path.join(folder, 'card', 'day 2', 'piped.mp4');
    await fs.copyFile(CORRIDOR, clip);
    execFileSync('mkfifo', [clip.replace('.mp4', '.rig.json')]);
    expect((await good(take('day 2/piped.mp4'))).rig).toBeNull();
  });
});

describe('a clip of a folder', () => {
  it('stays where it lies, with the rig beside it as settings; nothing is written there', async () => {
    const before = await filesBelow(path.join(folder, 'card'));
    const clip = await good(take('today/tiled corridor.mp4'));
    expect(clip).toMatchObject({ name: 'tiled corridor.mp4', origin: 'folder' });
    expect(clip.rig).toMatchObject({ focal: '28mm', wheelbase: '450mm' });
    // By its real place, whichever way leads there.
    expect(server.clips.find(clip.id).path).toBe(path.join(folder, 'card', 'day 2', 'tiled corridor.mp4'));
    expect((await good(take('day 2/tiled corridor.mp4'))).id).toBe(clip.id);
    expect(await filesBelow(path.join(folder, 'card'))).toEqual(before);
    expect(await filesBelow(path.join(server.dataDir, 'uploads'))).toEqual([]);
  });

  it('is looked at before FFmpeg is, a leading dash and all', async () => {
    expect(await refusal(take('-map.mkv'))).toMatchObject({
      status: 415,
      code: 'not-a-clip',
      detail: expect.stringContaining('"-map.mkv" seems to be a text') as string,
    });
  });

  it('is another once it has changed, and says when it has gone', async () => {
    const file = path.join(folder, 'card', 'day 2', 'moving.mp4');
    await fs.copyFile(CORRIDOR, file);
    const { id } = await good(take('day 2/moving.mp4'));
    await fs.utimes(file, new Date(), new Date(1_900_000_000_000));
    expect(await refusal(server.ask(`/clips/${id}`))).toMatchObject({ status: 409, code: 'clip-changed' });
    expect((await good(take('day 2/moving.mp4'))).id).not.toBe(id);
    await fs.rm(file);
    await fs.symlink(path.join(folder, 'private', 'secret.mp4'), file);
    expect(await refusal(server.ask(`/clips/${id}`))).toMatchObject({ status: 404, code: 'clip-missing' });
  });
});
