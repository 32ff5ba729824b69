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
 * Makes the folder where it is not there, and holds it. A folder that takes no socket (read-only, or of a file system without) is not held.
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
  const place = placeOf(await fs.realpath(dataDir));
  // The socket that a crash left behind is taken away once.
  for (let mayBeLeft = true; ; mayBeLeft = false) {
    const server = net.createServer((socket) => socket.destroy()).unref();
    const failure = await listening(server, place);
    if (failure === null) return () => new Promise((resolve) => server.close(() => resolve()));
    if (failure.code !== 'EADDRINUSE') return () => Promise.resolve();
    if (!mayBeLeft || (await answers(place)))
      throw new TrundleError(
        'data-in-use',
        `The data folder "${dataDir}" is served already; use the page that is open, or choose another folder with --data-dir.`,
      );
    await fs.rm(place, { force: true });
  }
}

/** In the folder; beside all others where that is too long, or on Windows, where such sockets have names of their own. */
function placeOf(dataDir: string): string {
  const inside = path.join(dataDir, SOCKET);
  const name = `trundle-${createHash('sha256').update(dataDir).digest('hex').slice(0, 16)}`;
  if (process.platform === 'win32') return `\\\\.\\pipe\\${name}`;
  return Buffer.byteLength(inside) <= LONGEST_PATH_BYTES ? inside : path.join(os.tmpdir(), `${name}.sock`);
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
