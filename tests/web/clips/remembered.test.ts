import fs from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { logFile, openLog } from '../../../src/log/index.js';
import { madeUpBundle } from '../../report/support/made-up-bundle.js';
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
const busy = new Set<string>();
const SHA256 = 'ab'.repeat(32);

beforeAll(async () => {
  folder = await temporaryFolder();
  await fs.mkdir(path.join(folder, 'card'));
  await fs.copyFile(CORRIDOR, path.join(folder, 'card', 'corridor.mp4'));
  server = await openServer(folder, {}, undefined, (clip) => busy.has(clip));
});

afterAll(async () => {
  await server.close();
  await fs.rm(folder, { recursive: true, force: true });
});

const uploads = () => filesBelow(path.join(server.dataDir, 'uploads'));
const send = async (name: string) => good(server.put(name, new Uint8Array(await fs.readFile(CORRIDOR))));

describe('what is remembered of clips', () => {
  it('is there after a restart; what a crash left behind goes', async () => {
    const sent = await send('sent.mp4');
    const lying = await good(server.post('/clips/from-folder', { folder: 'card', path: 'corridor.mp4' }));
    await server.clips.remember(lying.id, SHA256);
    const half = path.join(server.dataDir, 'uploads', '0123456789abcdef', 'take.mp4.part');
    await fs.mkdir(path.dirname(half));
    await fs.writeFile(half, 'half of it');
    await fs.utimes(half, new Date('2031-03-14T08:00:00Z'), new Date('2031-03-14T08:00:00Z'));
    await fs.writeFile(path.join(server.dataDir, '.clips.json.0a1b2c3d.part'), '{');
    const again = await openServer(folder);
    expect(await good(again.ask(`/clips/${sent.id}`))).toEqual(sent);
    expect(await good(again.ask(`/clips/${lying.id}`))).toEqual(lying);
    expect(await again.clips.ofSha256(SHA256)).toMatchObject({ id: lying.id, origin: 'folder' });
    expect(await uploads()).toEqual([`${sent.id}/sent.mp4`]);
    expect((await fs.readdir(server.dataDir)).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  it('goes with the data folder where that is moved to, and no copy is lost with the list', async () => {
    const sent = await send('moved.mp4');
    const elsewhere = path.join(folder, 'elsewhere');
    await fs.cp(server.dataDir, path.join(elsewhere, 'data'), { recursive: true, preserveTimestamps: true });
    const moved = await openServer(elsewhere);
    expect(await good(moved.ask(`/clips/${sent.id}`))).toEqual(sent);
    await fs.rm(path.join(moved.dataDir, 'clips.json'));
    const listless = await openServer(elsewhere);
    const copies = await filesBelow(path.join(listless.dataDir, 'uploads'));
    expect(copies).toContain(`${sent.id}/moved.mp4`);
    expect(await good(listless.ask(`/clips/${sent.id}`))).toEqual(sent);
  });

  it('does not hold for a file that has changed', async () => {
    const { id } = await good(server.post('/clips/from-folder', { folder: 'card', path: 'corridor.mp4' }));
    await server.clips.remember(id, SHA256);
    expect(await server.clips.ofSha256(SHA256)).toMatchObject({ id });
    await fs.appendFile(path.join(folder, 'card', 'corridor.mp4'), 'more');
    expect(await server.clips.ofSha256(SHA256)).toBeNull();
  });

  it.each([
    '{"format":"trundle-clips/1","clips":[',
    '{"format":"trundle-clips/2","clips":[]}',
    '{"clips":[{"id":1}]}',
    '',
  ])('is set aside and begun anew when it reads %j', async (text) => {
    const other = path.join(folder, 'damaged');
    await fs.rm(other, { recursive: true, force: true });
    await fs.mkdir(path.join(other, 'data'), { recursive: true });
    await fs.writeFile(path.join(other, 'data', 'clips.json'), text);
    const opened = await openServer(other);
    expect(await refusal(opened.ask('/clips/0011'))).toMatchObject({ status: 404, code: 'clip-unknown' });
    const [aside, ...others] = (await fs.readdir(opened.dataDir)).filter((name) =>
      name.startsWith('clips.json'),
    );
    expect(others).toEqual([]);
    expect(aside).toMatch(/^clips\.json\.damaged-\d{8}-\d{6}$/);
    expect(await fs.readFile(path.join(opened.dataDir, aside), 'utf8')).toBe(text);
  });

  it('never leads to a file outside, whatever the list says', async () => {
    const other = path.join(folder, 'forged');
    await fs.mkdir(path.join(other, 'data'), { recursive: true });
    const forged = { id: 'f0', name: 'x', path: CORRIDOR, sizeBytes: 1, modifiedMs: 1, sha256: SHA256 };
    const clips = [
      { ...forged, origin: 'upload' },
      { ...forged, id: 'f1', origin: 'folder' },
    ];
    const text = JSON.stringify({ format: 'trundle-clips/1', clips });
    await fs.writeFile(path.join(other, 'data', 'clips.json'), text);
    const opened = await openServer(other);
    for (const { id } of clips)
      expect(await refusal(opened.ask(`/clips/${id}`))).toMatchObject({ code: 'clip-unknown' });
    expect(await opened.clips.ofSha256(SHA256)).toBeNull();
  });
});

describe('a copy of a clip', () => {
  it('stays while it is measured, and while a run of the log was measured from it', async () => {
    const { id } = await send('kept.mp4');
    const remove = () => server.ask(`/clips/${id}`, { method: 'DELETE' });
    busy.add(id);
    expect(await refusal(remove())).toMatchObject({ status: 409, code: 'clip-busy' });
    busy.delete(id);

    const sha256 = 'cd'.repeat(32);
    await server.clips.remember(id, sha256);
    const { run, series } = madeUpBundle((draft) => (draft.clip.sha256 = sha256));
    const log = openLog(logFile(server.dataDir, {}, 'linux', folder));
    const kept = log.add({ run, series, picture: null, thumbnail: null, reportFolder: null });
    expect((await remove()).status).toBe(204);
    await server.clips.forget([sha256]);
    expect(await server.clips.ofSha256(sha256)).toMatchObject({ id });

    log.remove([kept.id]);
    log.close();
    await server.clips.forget([sha256]);
    expect(await server.clips.ofSha256(sha256)).toBeNull();
    expect((await uploads()).filter((file) => file.endsWith('kept.mp4'))).toEqual([]);
  });
});
