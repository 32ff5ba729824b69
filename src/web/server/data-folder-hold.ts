/**
 * One server for each data folder: two would overwrite each other's lists and clear away what the other is just taking in. Held by a
 * local socket that answers as long as its process lives, so that a crash holds nothing.
 */
import { createHash } from 'node:crypto';
import fs from 'node:fs/promises';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { TrundleError } from '../../run/index.js';

const SOCKET = 'serving.sock';
/** Longest path of a socket, bytes: macOS takes 103, Linux 107. */
const LONGEST_PATH_BYTES = 100;

/**
 * Makes the folder where it is not there, and holds it. A folder that takes no socket (read-only, or of a file system without) is held by one
 * among the temporary files of this machine; without that, too, it is not held.
 *
 * @returns lets it go
 * @throws TrundleError `data-in-use` where another server holds it; `output-unwritable` where it cannot be made
 */
export async function holdDataFolder(dataDir: string): Promise<() => Promise<void>> {
  await fs.mkdir(dataDir, { recursive: true }).catch((cause: unknown) => {
    throw new TrundleError(
      'output-unwritable',
      `The data folder "${dataDir}" cannot be made; choose another with --data-dir.`,
      { cause },
    );
  });
  for (const place of placesOf(await fs.realpath(dataDir))) {
    const letGo = await holdAt(place, dataDir);
    if (letGo) return letGo;
  }
  return () => Promise.resolve();
}

/** Null where no socket can stand. @throws TrundleError `data-in-use` */
async function holdAt(place: string, dataDir: string): Promise<(() => Promise<void>) | null> {
  // The socket that a crash left behind is taken away once.
  for (let mayBeLeft = true; ; mayBeLeft = false) {
    const server = net.createServer((socket) => socket.destroy()).unref();
    const failure = await listening(server, place);
    if (failure === null) return () => new Promise((resolve) => server.close(() => resolve()));
    if (failure.code !== 'EADDRINUSE') return null;
    if (!mayBeLeft || (await answers(place)))
      throw new TrundleError(
        'data-in-use',
        `The data folder "${dataDir}" is served already; use the page that is open, or choose another folder with --data-dir.`,
      );
    await fs.rm(place, { force: true });
  }
}

/** In the folder, then beside all others, where its path is too long or it takes none; on Windows such sockets have names of their own. */
function placesOf(dataDir: string): readonly string[] {
  const inside = path.join(dataDir, SOCKET);
  const name = `trundle-${createHash('sha256').update(dataDir).digest('hex').slice(0, 16)}`;
  if (process.platform === 'win32') return [`\\\\.\\pipe\\${name}`];
  const beside = path.join(os.tmpdir(), `${name}.sock`);
  return Buffer.byteLength(inside) <= LONGEST_PATH_BYTES ? [inside, beside] : [beside];
}

/** Resolves with what is in the way; null when it listens. */
function listening(server: net.Server, place: string): Promise<NodeJS.ErrnoException | null> {
  return new Promise((resolve) => {
    server.once('error', resolve);
    server.listen(place, () => resolve(null));
  });
}

function answers(place: string): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = net.connect(place, () => {
      socket.destroy();
      resolve(true);
    });
    socket.once('error', () => resolve(false));
  });
}
