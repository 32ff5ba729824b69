/** Where a browser is looked for: names on the PATH first, then the usual places of the system. */
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { installedBrowsers } from '../../src/report/pdf/installed-browsers.js';
import { launchChromium } from '../../src/report/pdf/launch-chromium.js';

describe('browsers that are installed', () => {
  let root = '';
  beforeAll(async () => {
    root = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-browsers-'));
    const put = async (file: string, mode: number): Promise<void> => {
      await fs.mkdir(path.dirname(path.join(root, file)), { recursive: true });
      await fs.writeFile(path.join(root, file), '#!/bin/sh\nexit 1\n', { mode });
    };
    await put('bin/chromium', 0o755);
    await put('bin/google-chrome', 0o644);
    await put('home/Applications/Chromium.app/Contents/MacOS/Chromium', 0o755);
    await fs.mkdir(path.join(root, 'bin/chrome'));
  });
  afterAll(() => fs.rm(root, { recursive: true, force: true }));

  it('are files on the PATH that may be run, and no folders', async () => {
    const found = await installedBrowsers({ PATH: path.join(root, 'bin') }, 'linux');
    expect(found.filter((file) => file.startsWith(root))).toEqual([path.join(root, 'bin/chromium')]);
  });

  it('are looked for among the programs of the user on macOS', async () => {
    const found = await installedBrowsers({ HOME: path.join(root, 'home') }, 'darwin');
    expect(found).toContain(path.join(root, 'home/Applications/Chromium.app/Contents/MacOS/Chromium'));
  });

  it('count for nothing beside the one that is named by hand, which is told when it does not start', async () => {
    const named = path.join(root, 'bin/chromium');
    const launch = await launchChromium({ TRUNDLE_CHROMIUM: named });
    expect(launch.browser).toBeNull();
    expect(launch.browser === null && launch.reason).toMatch(
      new RegExp(`^TRUNDLE_CHROMIUM=${named}: [^;]+$`),
    );
  });
});
