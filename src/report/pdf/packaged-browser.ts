/** Unpacks the packaged browser into a folder that only this user can write to. */
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';

/** What the package takes for a name in the folder for temporary files. */
const PROGRAM = 'chromium';

/**
 * The path of the packaged browser, unpacked if need be.
 *
 * Left to itself, the package runs whatever lies under its name in the folder for temporary files, where every user of a machine may put
 * something, and takes what an interrupted unpacking left for whole. So it is led to a folder of this user's own, which gets its name when
 * everything is in it.
 *
 * @throws Error when that folder is somebody else's or open to others, or there is no room
 */
export async function packagedBrowser(): Promise<string> {
  const { default: packaged } = await import('@sparticuz/chromium');
  const about = new URL('../../package.json', import.meta.resolve('@sparticuz/chromium'));
  const { version } = JSON.parse(await fs.readFile(about, 'utf8')) as { version: string };
  const folder = path.join(os.tmpdir(), `trundle-browser-${process.getuid?.() ?? 'user'}-${version}`);
  const program = path.join(folder, PROGRAM);
  if ((await isOwn(folder)) && (await fs.stat(program).catch(() => null)) !== null) return program;
  const fresh = await fs.mkdtemp(`${folder}-`);
  try {
    await within(fresh, () => packaged.executablePath());
    await fs.rename(fresh, folder).catch(async (error: unknown) => {
      // Another process was quicker.
      if (!(await isOwn(folder))) throw error;
    });
  } finally {
    await fs.rm(fresh, { recursive: true, force: true });
  }
  return program;
}

/** Starts work that asks for the folder for temporary files at once, before its first wait, and is told another. */
function within<T>(folder: string, start: () => Promise<T>): Promise<T> {
  const before = process.env['TMPDIR'];
  process.env['TMPDIR'] = folder;
  try {
    return start();
  } finally {
    if (before === undefined) delete process.env['TMPDIR'];
    else process.env['TMPDIR'] = before;
  }
}

/** Whether a folder is there. @throws Error when it is not this user's alone to write to */
async function isOwn(folder: string): Promise<boolean> {
  const found = await fs.lstat(folder).catch(() => null);
  if (found === null) return false;
  const isMine = process.getuid === undefined || found.uid === process.getuid();
  if (found.isDirectory() && isMine && (found.mode & 0o022) === 0) return true;
  throw new Error(`"${folder}" can be written to by other users; remove it`);
}
