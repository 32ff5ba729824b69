/** Names of report folders out of what clips are called, and folders that are nobody else's. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { folderName, makeOwnFolder } from '../../../src/web/jobs/report-folder.js';

describe('the name of a report folder', () => {
  it.each([
    ['tiled-corridor.mp4', 'tiled-corridor'],
    ['A003_C012 take 4.mov', 'A003_C012 take 4'],
    ['Käserei früh.mp4', 'Käserei früh'],
    ['廊下の試し.mp4', '廊下の試し'],
    ['../../etc/passwd', 'etc-passwd'],
    ['..\\..\\reports\\x.mp4', 'reports-x'],
    ['.hidden.mp4', 'hidden'],
    ['-rf.mp4', 'rf'],
    ['a\u202eb\u0000c\n.mp4', 'a-b-c'],
    ['"; rm x; ".mp4', 'rm x'],
    ['con.mp4', 'con-clip'],
    ['...', 'clip'],
    ['', 'clip'],
    ['pass v1.2 lane 3', 'pass v1.2 lane 3'],
  ])('of %j is %j', (clip, name) => {
    expect(folderName(clip)).toBe(name);
  });

  it('is short enough for a file system, and cut between characters', () => {
    const name = folderName(`${'ü'.repeat(300)}.mp4`);
    expect(Buffer.byteLength(name)).toBeLessThanOrEqual(180);
    expect(name).toMatch(/^ü+$/);
  });
});

describe('a folder of its own', () => {
  let outDir: string;
  beforeAll(() => (outDir = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-folders-'))));
  afterAll(() => fs.rmSync(outDir, { recursive: true, force: true }));

  it('never takes the place of one that is there, even when several are asked for at once', async () => {
    const reports = path.join(outDir, 'not there yet');
    const made = await Promise.all(Array.from({ length: 4 }, () => makeOwnFolder(reports, 'hall')));
    const names = made.map((folder) => path.relative(reports, folder)).sort();
    expect(names).toEqual(['hall', 'hall-2', 'hall-3', 'hall-4']);
  });

  it('says that it cannot be made', async () => {
    const file = path.join(outDir, 'a-file');
    fs.writeFileSync(file, '');
    await expect(makeOwnFolder(file, 'hall')).rejects.toMatchObject({ code: 'output-unwritable' });
  });
});
