/** Looks for a Chromium or Chrome that is installed: by its usual names on the PATH, then at its usual places. */
import { constants } from 'node:fs';
import { access, stat } from 'node:fs/promises';
import path from 'node:path';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];

type Environment = Readonly<Record<string, string | undefined>>;

/** Usual places that are on no PATH. */
function usualPlaces(environment: Environment, platform: NodeJS.Platform): string[] {
  switch (platform) {
    case 'darwin':
      return ['/Applications', path.join(environment['HOME'] ?? '/', 'Applications')].flatMap((folder) =>
        ['Chromium', 'Google Chrome'].map((name) => path.join(folder, `${name}.app/Contents/MacOS/${name}`)),
      );
    case 'win32':
      return ['PROGRAMFILES', 'PROGRAMFILES(X86)', 'LOCALAPPDATA'].flatMap((name) => {
        const folder = environment[name];
        if (!folder) return [];
        return ['Google\\Chrome', 'Chromium'].map((maker) =>
          path.win32.join(folder, maker, 'Application', 'chrome.exe'),
        );
      });
    default:
      return ['/usr/bin', '/usr/local/bin', '/snap/bin', '/opt/google/chrome'].flatMap((folder) =>
        NAMES.map((name) => path.posix.join(folder, name)),
      );
  }
}

/**
 * Files that look like a browser that may be run, in the order in which they should be tried; each once.
 * @param environment read for PATH and, on Windows and macOS, for the folders of programs
 */
export async function installedBrowsers(
  environment: Environment,
  platform: NodeJS.Platform,
): Promise<string[]> {
  const windows = platform === 'win32';
  const folders = (environment['PATH'] ?? environment['Path'] ?? '').split(windows ? ';' : ':');
  const onPath = folders
    .filter((folder) => folder !== '')
    .flatMap((folder) => NAMES.map((name) => path.join(folder, windows ? `${name}.exe` : name)));
  const candidates = [...new Set([...onPath, ...usualPlaces(environment, platform)])];
  const there = await Promise.all(candidates.map(mayRun));
  return candidates.filter((_, i) => there[i]);
}

async function mayRun(file: string): Promise<boolean> {
  try {
    await access(file, constants.X_OK);
    return (await stat(file)).isFile();
  } catch {
    return false;
  }
}
