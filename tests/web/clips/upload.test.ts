import fs from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sha256OfFile } from '../../../src/footage/index.js';
import { receiveFile } from '../../../src/web/clips/receive-file.js';
import type { WebProblem } from '../../../src/web/server/problem.js';
import {
  CORRIDOR,
  filesBelow,
  good,
  inPieces,
  openServer,
  refusal,
  temporaryFolder,
  type ClipServer,
} from './support/clip-server.js';

let folder: string;
let server: ClipServer;
let corridor: Uint8Array<ArrayBuffer>;

beforeAll(async () => {
  folder = await temporaryFolder();
  server = await openServer(folder, { maxUploadBytes: 4e6 });
  corridor = new Uint8Array(await fs.readFile(CORRIDOR));
});

afterAll(async () => {
  await server.close();
  await fs.rm(folder, { recursive: true, force: true });
});

const uploads = () => filesBelow(path.join(server.dataDir, 'uploads'));

describe('a clip that is sent', () => {
  it('is kept whole under a safe name, and told of by its own', async () => {
    const clip = await good(server.put('../Hof 3: «Türe» 廊下.mp4', inPieces(corridor)));
    expect(clip).toMatchObject({
      name: 'Hof 3: «Türe» 廊下.mp4',
      origin: 'upload',
      sizeBytes: corridor.length,
      widthPx: 1280,
      fpsFraction: '25/1',
      codec: 'h264',
      rig: null,
    });
    expect(await uploads()).toEqual([`${clip.id}/Hof_3_Türe_廊下.mp4`]);
    const { path: file } = server.clips.find(clip.id);
    expect((await fs.readFile(file)).equals(corridor)).toBe(true);
    expect(await good(server.ask(`/clips/${clip.id}`))).toEqual(clip);
    // Its runs find it before it was measured here.
    expect(await server.clips.ofSha256(await sha256OfFile(CORRIDOR))).toMatchObject({ id: clip.id });
  });

  it('is the same clip when it is sent again under its name', async () => {
    const [first, again] = [
      await good(server.put('twice.mp4', corridor)),
      await good(server.put('twice.mp4', corridor)),
    ];
    expect(again.id).toBe(first.id);
    expect((await uploads()).filter((file) => file.endsWith('twice.mp4'))).toHaveLength(1);
  });

  it('goes with its copy when it is taken off', async () => {
    const { id } = await good(server.put('gone.mp4', corridor));
    expect((await server.ask(`/clips/${id}`, { method: 'DELETE' })).status).toBe(204);
    expect((await uploads()).filter((file) => file.endsWith('gone.mp4'))).toEqual([]);
    expect(await refusal(server.ask(`/clips/${id}`))).toMatchObject({ status: 404, code: 'clip-unknown' });
  });
});

describe('what is refused leaves nothing behind', () => {
  const text = (words: string) => new TextEncoder().encode(words.repeat(100));
  const bytes = (...values: number[]) => Uint8Array.from([...values, ...new Array<number>(600).fill(0)]);
  it.each<[string, Uint8Array<ArrayBuffer>, string]>([
    ['a text', text('Slate 14, take 2. Floor good.\n'), 'seems to be a text'],
    ['a web page', text('<!DOCTYPE html><html><body>Not found</body></html>'), 'seems to be a web page'],
    ['a PNG', bytes(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a), 'seems to be a picture'],
    ['a JPEG', bytes(0xff, 0xd8, 0xff, 0xe0), 'seems to be a picture'],
    ['a picture of a phone', bytes(0, 0, 0, 24, ...Buffer.from('ftypheic')), 'seems to be a picture'],
    ['a PDF', bytes(...Buffer.from('%PDF-1.7\n%'), 0xe2, 0xe3), 'seems to be a PDF'],
    ['a zip', bytes(0x50, 0x4b, 3, 4), 'seems to be an archive'],
    ['noise', bytes(9, 8, 7, 6, 5), 'is no kind of clip'],
  ])('%s named .mp4', async (_, content, sentence) => {
    const before = await uploads();
    const { status, code, detail } = await refusal(server.put('pass.mp4', content));
    expect([status, code]).toEqual([415, 'not-a-clip']);
    expect(detail).toContain(`"pass.mp4" ${sentence}`);
    expect(detail).toContain('such as MP4, MOV, MXF');
    expect(await uploads()).toEqual(before);
  });

  it('an empty file, and no file at all', async () => {
    expect(await refusal(server.put('pass.mp4', new Uint8Array()))).toMatchObject({
      status: 415,
      code: 'clip-empty',
    });
    expect(await refusal(server.put('pass.mp4', null))).toMatchObject({ status: 400, code: 'body-missing' });
  });

  it('the head of a clip without the rest, named as the crew names it', async () => {
    // Its table of contents would have come after the pictures.
    const media = Buffer.from('\0\x10\0\0mdat', 'latin1');
    const head = Buffer.concat([corridor.subarray(0, 32), media, corridor.subarray(90_000, 190_000)]);
    const { status, code, detail } = await refusal(server.put('cut short.mp4', head));
    expect([status, code]).toEqual([422, 'clip-unreadable']);
    expect(detail).toContain('"cut short.mp4"');
    expect(detail).not.toContain(server.dataDir);
    expect((await uploads()).filter((file) => file.includes('cut'))).toEqual([]);
  });

  it('more than the limit, by its own word before any of it is taken', async () => {
    let taken = 0;
    const body = new ReadableStream<Uint8Array>(
      {
        pull(controller) {
          taken++;
          controller.enqueue(corridor);
        },
      },
      { highWaterMark: 0 },
    );
    const { status, code, detail } = await refusal(
      server.put('long.mp4', body, { 'Content-Length': '4000001' }),
    );
    expect([status, code]).toEqual([413, 'clip-too-large']);
    expect(detail).toContain('larger than 4 MB');
    expect(taken).toBe(0);
  });

  it('more than the limit that says it is less', async () => {
    const before = await uploads();
    const body = inPieces(Buffer.concat([corridor, corridor]));
    const answer = server.put('lying.mp4', body, { 'Content-Length': '1000' });
    expect(await refusal(answer)).toMatchObject({ status: 413, code: 'clip-too-large' });
    expect(await uploads()).toEqual(before);
  });

  it('less than was promised, and a connection that breaks', async () => {
    const before = await uploads();
    const promised = { 'Content-Length': String(corridor.length) };
    const short = server.put('part.mp4', inPieces(corridor.slice(0, 100_000)), promised);
    expect(await refusal(short)).toMatchObject({ status: 400, code: 'upload-broken' });
    const broken = server.put('part.mp4', inPieces(corridor.slice(0, 300_000), 'broken'));
    expect(await refusal(broken)).toMatchObject({ status: 400, code: 'upload-broken' });
    expect(await uploads()).toEqual(before);
  });

  it.runIf(process.platform === 'linux')('what the disk has no room for, in a sentence', async () => {
    const delivery = { name: 'pass.mp4', body: inPieces(corridor), statedBytes: null, mostBytes: 4e6 };
    // A device that is always full.
    const problem: WebProblem = (await receiveFile('/dev/full', delivery).catch(
      (error: WebProblem) => error,
    )) as WebProblem;
    expect([problem.status, problem.code]).toEqual([507, 'disk-full']);
    expect(problem.message).toContain('There is no room for "pass.mp4"');
  });
});

describe('a slow disk', () => {
  it('holds the sender back: no more is asked for than is written', async () => {
    const sent: number[] = [];
    let from = 0;
    const body = new ReadableStream<Uint8Array>(
      {
        pull(controller) {
          if (from >= corridor.length) return controller.close();
          const piece = corridor.slice(from, (from += 65536));
          controller.enqueue(piece);
          sent.push((sent.at(-1) ?? 0) + piece.length);
        },
      },
      { highWaterMark: 0 },
    );
    const file = path.join(folder, 'slow.mp4');
    const written: number[] = [];
    const reader = body.getReader();
    const watched = new ReadableStream<Uint8Array>(
      {
        async pull(controller) {
          const { size } = await fs.stat(file).catch(() => ({ size: 0 }));
          written.push(size);
          const { done, value } = await reader.read();
          if (done) controller.close();
          else controller.enqueue(value);
        },
      },
      { highWaterMark: 0 },
    );
    const { sizeBytes } = await receiveFile(file, {
      ...{ name: 'slow.mp4', body: watched, statedBytes: null, mostBytes: 4e6 },
    });
    expect(sizeBytes).toBe(corridor.length);
    // When a piece is asked for, all before it are on the disk.
    expect(written).toEqual([0, ...sent]);
  });
});
