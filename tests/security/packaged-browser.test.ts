/** The packaged browser never runs from a place that others can write to. */
import { chmodSync, mkdirSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { packagedBrowser } from '../../src/report/pdf/packaged-browser.js';
import { clipFolder } from '../footage/made-clips.js';

/** Unpacks as the package does: under its own name in the folder for temporary files that it is told at once. */
vi.mock('@sparticuz/chromium', async () => {
  const fs = await import('node:fs');
  const os = await import('node:os');
  const paths = await import('node:path');
  const executablePath = (): Promise<string> => {
    const file = paths.join(os.tmpdir(), 'chromium');
    if (!fs.existsSync(file)) fs.writeFileSync(file, 'unpacked', { mode: 0o700 });
    return Promise.resolve(file);
  };
  return { default: { executablePath } };
});

const temporary = clipFolder();
afterEach(() => vi.unstubAllEnvs());

describe.skipIf(process.platform === 'win32')('the packaged browser', () => {
  it('runs from a folder of this user alone, not what somebody put where the package looks', async () => {
    vi.stubEnv('TMPDIR', temporary);
    writeFileSync(path.join(temporary, 'chromium'), 'planted', { mode: 0o755 });
    const program = await packagedBrowser();
    expect(path.dirname(path.dirname(program))).toBe(temporary);
    expect(statSync(path.dirname(program)).mode & 0o077).toBe(0);
    expect(statSync(program).size).toBe('unpacked'.length);
    expect(process.env['TMPDIR']).toBe(temporary);
    expect(await packagedBrowser()).toBe(program);
    expect(readdirSync(temporary)).toHaveLength(2);
  });

  it('is refused where that folder is open to others', async () => {
    const open = path.join(temporary, 'open');
    mkdirSync(open);
    vi.stubEnv('TMPDIR', open);
    const folder = path.dirname(await packagedBrowser());
    chmodSync(folder, 0o777);
    await expect(packagedBrowser()).rejects.toThrow(/can be written to by other users; remove it/);
  });
});
