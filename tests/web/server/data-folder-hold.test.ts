import fs from 'node:fs/promises';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { holdDataFolder } from '../../../src/web/server/data-folder-hold.js';

let folder: string;
beforeAll(async () => void (folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-hold-'))));
afterAll(() => fs.rm(folder, { recursive: true, force: true }));

describe('a data folder', () => {
  it('is held by one server at a time, by whichever path it is reached', async () => {
    const data = path.join(folder, 'data');
    const letGo = await holdDataFolder(data);
    await fs.symlink(data, path.join(folder, 'link'));
    await expect(holdDataFolder(path.join(folder, 'link'))).rejects.toMatchObject({ code: 'data-in-use' });
    await letGo();
    await (
      await holdDataFolder(data)
    )();
  });

  it('is held also where its path is too long for a socket', async () => {
    const data = path.join(folder, ...Array.from({ length: 12 }, () => 'a long name'));
    const letGo = await holdDataFolder(data);
    await expect(holdDataFolder(data)).rejects.toMatchObject({ code: 'data-in-use' });
    await letGo();
  });

  it.runIf(process.platform === 'linux')('is held also where it takes no socket', async () => {
    // Nobody can make a file there.
    const letGo = await holdDataFolder('/proc/sys');
    await expect(holdDataFolder('/proc/sys')).rejects.toMatchObject({ code: 'data-in-use' });
    await letGo();
  });

  it.skipIf(process.platform === 'win32')('is free again after a crash', async () => {
    const data = path.join(folder, 'crashed');
    await fs.mkdir(data);
    const place = path.join(data, 'serving.sock');
    const gone = net.createServer().listen(path.join(data, 'other.sock'));
    await new Promise((resolve) => gone.once('listening', resolve));
    // A name that nobody listens at, as a process leaves it that is ended in the middle.
    await fs.link(path.join(data, 'other.sock'), place);
    await new Promise((resolve) => gone.close(resolve));
    await expect(fs.stat(place)).resolves.toBeDefined();
    await (
      await holdDataFolder(data)
    )();
  });

  it('that cannot be made is told as such', async () => {
    await fs.writeFile(path.join(folder, 'file'), '');
    const refused = holdDataFolder(path.join(folder, 'file', 'data'));
    await expect(refused).rejects.toMatchObject({ code: 'output-unwritable' });
  });
});
