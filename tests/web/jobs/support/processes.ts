/** Looks at processes of this machine. */
import fs from 'node:fs';

/** Whether a process works still; one that has ended and was not fetched by its parent yet does not. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
  } catch {
    return false;
  }
  return statOf(pid)?.state !== 'Z';
}

/** Processes, besides this one, whose command line holds a text; Linux only, none elsewhere. */
export function processesWith(text: string): { readonly pid: number; readonly parent: number }[] {
  if (process.platform !== 'linux') return [];
  return fs.readdirSync('/proc').flatMap((name) => {
    const pid = Number(name);
    if (!Number.isInteger(pid) || pid === process.pid) return [];
    const stat = statOf(pid);
    return stat && stat.state !== 'Z' && commandOf(pid).includes(text) ? [{ pid, parent: stat.parent }] : [];
  });
}

function commandOf(pid: number): string {
  try {
    return fs.readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ');
  } catch {
    return '';
  }
}

/** State and parent; null where they cannot be told. */
function statOf(pid: number): { readonly state: string; readonly parent: number } | null {
  try {
    // The name of the program stands in brackets and may hold anything.
    const [state, parent] = fs
      .readFileSync(`/proc/${pid}/stat`, 'utf8')
      .replace(/^.*\) /s, '')
      .split(' ');
    return { state, parent: Number(parent) };
  } catch {
    return null;
  }
}
