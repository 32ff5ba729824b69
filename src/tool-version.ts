/** The version of this tool and, in a checkout, the commit it runs from: every run document carries both. */
import fs from 'node:fs';

const root = new URL('../', import.meta.url);

/** Reads package.json and, where there is one, the git head beside it. */
export function toolVersion(): { version: string; commit: string | null } {
  const { version } = JSON.parse(fs.readFileSync(new URL('package.json', root), 'utf8')) as {
    version: string;
  };
  return { version, commit: headCommit() };
}

function headCommit(): string | null {
  try {
    const head = fs.readFileSync(new URL('.git/HEAD', root), 'utf8').trim();
    const ref = /^ref: (.+)$/.exec(head)?.[1];
    const commit = ref ? fs.readFileSync(new URL(`.git/${ref}`, root), 'utf8').trim() : head;
    return /^[0-9a-f]{40}$/.test(commit) ? commit.slice(0, 12) : null;
  } catch {
    return null; // an installed package has no checkout
  }
}
