/** Starts the browser of this machine on a page. */
import { spawn } from 'node:child_process';
import path from 'node:path';
import { TrundleError } from '../run/index.js';

/** The program that shows a page on a platform, and its words. */
export function viewerOf(platform: NodeJS.Platform, page: string): readonly [string, readonly string[]] {
  if (platform === 'darwin') return ['open', [page]];
  return [platform === 'win32' ? 'explorer.exe' : 'xdg-open', [page]];
}

/**
 * Shows a page with the browser of this machine and leaves it to itself.
 * @param page its path or address
 * @throws TrundleError `output-unwritable` when there is none
 */
export function showInBrowser(page: string): Promise<void> {
  // A path that begins with a dash would be an option to the program that shows it.
  const [program, words] = viewerOf(process.platform, /^https?:/.test(page) ? page : path.resolve(page));
  const child = spawn(program, [...words], { detached: true, stdio: 'ignore' });
  return new Promise((resolve, reject) => {
    child.once('spawn', () => {
      child.unref();
      resolve();
    });
    child.once('error', (cause) =>
      reject(
        new TrundleError(
          'output-unwritable',
          `The page cannot be shown: "${program}" does not start. Open "${page}" yourself.`,
          { cause },
        ),
      ),
    );
  });
}
