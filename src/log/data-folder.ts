/** The folder where the program keeps what it remembers between runs (the log, the crew's deliveries), by the custom of the system. */
import fs from 'node:fs';
import path from 'node:path';
import { TrundleError } from '../run/index.js';

/**
 * The user's data folder; it need not exist yet.
 *
 * `TRUNDLE_DATA` wins; else `XDG_DATA_HOME/trundle` or `~/.local/share/trundle` on Linux and its kin,
 * `~/Library/Application Support/Trundle` on macOS, `%LOCALAPPDATA%\Trundle` on Windows. An empty variable counts as none, and so
 * does an `XDG_DATA_HOME` that is not absolute (XDG Base Directory Specification 0.8).
 *
 * @param env the variables of the process
 * @param platform as `process.platform` names it; decides the style of the path too
 * @param home home folder of the user
 */
export function dataFolder(
  env: Readonly<Record<string, string | undefined>>,
  platform: NodeJS.Platform,
  home: string,
): string {
  const paths = platform === 'win32' ? path.win32 : path.posix;
  const own = env['TRUNDLE_DATA'];
  if (own) return paths.resolve(own);
  if (platform === 'darwin') return paths.join(home, 'Library', 'Application Support', 'Trundle');
  if (platform === 'win32')
    return paths.join(env['LOCALAPPDATA'] || paths.join(home, 'AppData', 'Local'), 'Trundle');
  const shared = env['XDG_DATA_HOME'];
  return paths.join(
    shared && paths.isAbsolute(shared) ? shared : paths.join(home, '.local', 'share'),
    'trundle',
  );
}

/** The name of the log in the data folder. */
export const LOG_FILE = 'runs.db';

/** The file of the log: in the folder given, else in the user's data folder. */
export function logFile(
  dataDir: string | undefined,
  env: Readonly<Record<string, string | undefined>>,
  platform: NodeJS.Platform,
  home: string,
): string {
  return path.resolve(dataDir ?? dataFolder(env, platform, home), LOG_FILE);
}

/**
 * Whether a file of a data folder is there: false where it, or the whole folder, is not.
 * @param file right inside the folder, like the log
 * @throws TrundleError `argument-invalid` where the folder is a file, or may not be looked into
 */
export function isInDataFolder(file: string): boolean {
  const folder = path.dirname(file);
  let cause: unknown;
  try {
    const isFolder = fs.statSync(folder, { throwIfNoEntry: false })?.isDirectory();
    if (isFolder !== false) return fs.statSync(file, { throwIfNoEntry: false }) !== undefined;
  } catch (error) {
    cause = error;
  }
  const isBarred = ['EACCES', 'EPERM'].includes(String((cause as NodeJS.ErrnoException | undefined)?.code));
  throw new TrundleError(
    'argument-invalid',
    isBarred
      ? `The data folder "${folder}" may not be looked into by this user; let its owner permit it, or choose another with --data-dir or TRUNDLE_DATA.`
      : `The data folder "${folder}" is a file or lies below one; choose a folder with --data-dir or TRUNDLE_DATA.`,
    { cause },
  );
}
