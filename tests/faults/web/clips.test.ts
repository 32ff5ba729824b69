/** Copies of clips and what can happen to them: halves, copies that no list knows, disks that take nothing, a hundred at once. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { sha256OfFile } from '../../../src/footage/index.js';
import { openRuns, runRoutes } from '../../../src/web/runs/index.js';
import { LOG_FILE, openLog } from '../../../src/log/index.js';
import { madeUpEntry } from '../../log/support/made-up-entry.js';
import {
  CORRIDOR,
  filesBelow,
  good,
  openServer,
  refusal,
  temporaryFolder,
  tools,
  type ClipServer,
} from '../../web/clips/support/clip-server.js';
import { servedRuns, withBody } from '../../web/runs/support/served-runs.js';

const LONG_AGO = new Date('2021-03-14T08:00:00Z');
/** By a clock that was put back since. */
const TO_COME = new Date('2091-03-14T08:00:00Z');

let folder: string;
let corridor: Uint8Array<ArrayBuffer>;
const open: ClipServer[] = [];
const uploads = (...parts: string[]): string => path.join(folder, 'data', 'uploads', ...parts);

beforeAll(async () => void (corridor = new Uint8Array(await fs.readFile(CORRIDOR))));
beforeEach(async () => void (folder = await temporaryFolder()));
afterEach(async () => {
  for (const server of open.splice(0)) await server.close();
  await fs.rm(folder, { recursive: true, force: true });
});

async function serve(): Promise<ClipServer> {
  const server = await openServer(folder);
  open.push(server);
  return server;
}

async function put(place: string, content: string | Uint8Array, at = LONG_AGO): Promise<void> {
  await fs.mkdir(path.dirname(place), { recursive: true });
  await fs.writeFile(place, content);
  await fs.utimes(place, at, at);
}

describe('found at the start', () => {
  it('half an upload that a crash left: goes, also where the clock was put back since', async () => {
    await put(uploads('0000000000000001', 'take.mp4.part'), 'half');
    await put(uploads('0000000000000002', 'take.mp4.part'), 'half', TO_COME);
    await serve();
    expect(await filesBelow(uploads())).toEqual([]);
  });

  it('half an upload that changed a moment ago: stays, another machine may be at it', async () => {
    await put(uploads('0000000000000001', 'take.mp4.part'), 'half', new Date());
    await serve();
    expect(await filesBelow(uploads())).toEqual(['0000000000000001/take.mp4.part']);
  });

  it('what somebody put there: stays as it is', async () => {
    const others = [
      'rushes/take 1.mp4',
      'take 2.mp4',
      '0000000000000003/notes.txt',
      '0000000000000003/x.part',
    ];
    for (const file of others) await put(uploads(file), 'not ours');
    await serve();
    expect(await filesBelow(uploads())).toEqual([...others].sort());
  });

  it('a whole copy that no list knows: is taken back under its number, and its runs find it', async () => {
    await put(uploads('00000000000000aa', 'hall.mp4'), corridor);
    const server = await serve();
    expect(await good(server.ask('/clips/00000000000000aa'))).toMatchObject({
      ...{ name: 'hall.mp4', origin: 'upload', sizeBytes: corridor.length },
    });
    const sha256 = await sha256OfFile(CORRIDOR);
    await expect
      .poll(async () => (await server.clips.ofSha256(sha256))?.id, { timeout: 5000 })
      .toBe('00000000000000aa');
    const list = await fs.readFile(path.join(folder, 'data', 'clips.json'), 'utf8');
    expect(list).toContain('00000000000000aa/hall.mp4');
  });

  it('a whole copy that is no clip after all: is kept, and says so when it is asked for', async () => {
    await put(uploads('00000000000000ab', 'hall.mp4'), 'not a clip');
    const server = await serve();
    expect((await refusal(server.ask('/clips/00000000000000ab'))).code).toBe('clip-unreadable');
    expect(await filesBelow(uploads())).toEqual(['00000000000000ab/hall.mp4']);
  });

  it.skipIf(process.platform === 'win32')('a link in the place of a copy: is followed nowhere', async () => {
    await fs.mkdir(uploads('00000000000000ac'), { recursive: true });
    await fs.symlink('/etc/hosts', uploads('00000000000000ac', 'hall.mp4'));
    expect((await refusal((await serve()).ask('/clips/00000000000000ac'))).code).toBe('clip-unknown');
  });

  it('a folder where the list should be: is set aside, and copies come back', async () => {
    await put(uploads('00000000000000ad', 'hall.mp4'), corridor);
    await put(path.join(folder, 'data', 'clips.json', 'in the way'), '');
    const server = await serve();
    expect((await good(server.ask('/clips/00000000000000ad'))).name).toBe('hall.mp4');
    const aside = (await fs.readdir(server.dataDir)).filter((name) => name.startsWith('clips.json.damaged-'));
    expect(await fs.readdir(path.join(server.dataDir, aside[0]))).toEqual(['in the way']);
  });
});

describe('a hundred files at once', () => {
  it.skipIf(process.platform === 'win32')(
    'are looked into by two processes at a time, and all arrive',
    async () => {
      // Stands for ffprobe: it writes down that it begins and that it ends.
      const probe = path.join(folder, 'probe');
      const diary = path.join(folder, 'diary');
      const script = `#!/bin/sh\necho + >> '${diary}'\nsleep 0.03\necho - >> '${diary}'\nexit 1\n`;
      await fs.writeFile(probe, script, { mode: 0o755 });
      const server = await openServer(folder, {
        tools: { ...tools, ffprobe: { ...tools.ffprobe, path: probe } },
      });
      open.push(server);
      const head = Uint8Array.from([...corridor.subarray(0, 9000)]);
      const answers = await Promise.all(Array.from({ length: 100 }, (_, i) => server.put(`${i}.mp4`, head)));
      for (const { status } of answers) expect(status).toBe(422);
      let atOnce = 0;
      const counts = (await fs.readFile(diary, 'utf8')).split('\n').map((word) => {
        if (word !== '') atOnce += word === '+' ? 1 : -1;
        return atOnce;
      });
      expect(counts.length).toBeGreaterThan(200);
      expect(Math.max(...counts)).toBe(2);
      expect(await filesBelow(uploads())).toEqual([]);
    },
  );
});

describe('the disk takes nothing any more', () => {
  /** A folder in the way of the list: root, too, cannot write a file over it. */
  const barList = async (server: ClipServer): Promise<void> => {
    await fs.rm(path.join(server.dataDir, 'clips.json'));
    await fs.mkdir(path.join(server.dataDir, 'clips.json', 'in the way'), { recursive: true });
  };

  it('an upload: is refused with a sentence, and its copy goes', async () => {
    const server = await serve();
    await good(server.put('first.mp4', corridor));
    await barList(server);
    const { status, code, detail } = await refusal(server.put('second.mp4', corridor));
    expect([status, code]).toEqual([507, 'data-unwritable']);
    expect(detail).toMatch(/"second\.mp4" could not be written/);
    expect(await filesBelow(uploads())).toEqual([expect.stringMatching(/first\.mp4$/)]);
  });

  it('the folder of copies is gone and cannot be made: says so', async () => {
    const server = await serve();
    await fs.writeFile(uploads(), '');
    expect(await refusal(server.put('pass.mp4', corridor))).toMatchObject({
      ...{ status: 507, code: 'upload-unwritable' },
    });
  });

  it('a clip is taken off the list: 507 with a sentence, no fault of the program', async () => {
    const server = await serve();
    const { id } = await good(server.put('first.mp4', corridor));
    await barList(server);
    const answer = server.ask(`/clips/${id}`, { method: 'DELETE' });
    expect(await refusal(answer)).toMatchObject({ status: 507, code: 'output-unwritable' });
  });

  it('the data folder is removed while clips are served: the next upload makes it anew', async () => {
    const server = await serve();
    const { id } = await good(server.put('first.mp4', corridor));
    await fs.rm(server.dataDir, { recursive: true });
    expect(await refusal(server.ask(`/clips/${id}`))).toMatchObject({ status: 404, code: 'clip-missing' });
    expect((await good(server.put('second.mp4', corridor))).name).toBe('second.mp4');
  });

  it('a run is removed and the copy of its clip cannot be: the run is told as removed, no fault of the program', async () => {
    const served = servedRuns();
    try {
      served.keep(madeUpEntry({}));
      const clips = {
        find: () => Promise.reject(new Error('not asked')) as never,
        ofSha256: () => Promise.resolve(null),
        remember: () => Promise.resolve(),
        forget: () => Promise.reject(new Error('the disk is gone')),
      };
      const context = { dataDir: served.dataDir, outDir: served.folder, events: { publish: () => {} } };
      const signal = new AbortController().signal;
      const runs = openRuns({ ...context, signal } as never, clips);
      const answer = await runRoutes(runs).request('/runs/remove', withBody('POST', { ids: [1] }));
      expect([answer.status, await answer.json()]).toEqual([200, { removed: [1] }]);
      runs.close();
    } finally {
      served.end();
    }
  });
});

describe('the log is damaged while the page is served', () => {
  it('every question gets a sentence, the damaged log is set aside at the next one, and a clip is measured into a new one', async () => {
    const served = servedRuns();
    try {
      served.keep(madeUpEntry({}));
      expect((await served.ask('/runs')).status).toBe(200);
      const file = path.join(served.dataDir, LOG_FILE);
      const size = (await fs.stat(file)).size;
      await fs.writeFile(file, Buffer.alloc(size, 0x55), { flag: 'r+' });
      for (const name of [`${file}-wal`, `${file}-shm`]) await fs.rm(name, { force: true });
      for (const place of [
        '/runs',
        '/runs/1',
        '/runs/1/report',
        '/runs/1/thumbnail',
        '/comparison?runs=1,2',
      ]) {
        const answer = await served.ask(place);
        const text = await answer.text();
        expect(answer.status, text).not.toBe(500);
        expect(text).not.toMatch(/\n\s+at /);
      }
      const log = openLog(file);
      expect(log.add(madeUpEntry({})).id).toBe(1);
      log.close();
      const names = await fs.readdir(served.dataDir);
      expect(names.some((name) => name.startsWith(`${LOG_FILE}.damaged-`))).toBe(true);
      expect((await served.ask('/runs')).status).toBe(200);
    } finally {
      served.end();
    }
  });
});
