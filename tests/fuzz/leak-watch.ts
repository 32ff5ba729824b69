/** Sees what a case leaves behind in this process and on this machine (Linux): programs, threads, open files, scratch files, memory. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

/** How long what is being tidied up may still be there after a case, ms. */
const GRACE_MS = 5000;
/** Open files and threads that may come later than the first cases: those of timers, of the file-system pool and of the loader. */
const SPARE = 6;
/** Growth of memory from the first check on that is called a leak, bytes. Heaps of the image engine come and go with their threads. */
const MOST_GROWTH_BYTES = 500e6;

/** Files that Node and its loader keep in the scratch folder for themselves. */
const LOADER_FILES = /^(tsx-|node-compile-cache|v8-compile-cache)/;

/** Whether leaks can be seen on this system. */
export const SEES_LEAKS = process.platform === 'linux';

interface Held {
  readonly files: number;
  readonly threads: number;
  readonly residentBytes: number;
}

function held(): Held {
  const [, resident] = fs.readFileSync('/proc/self/statm', 'utf8').split(' ').map(Number);
  return {
    files: fs.readdirSync('/proc/self/fd').length,
    threads: fs.readdirSync('/proc/self/task').length,
    residentBytes: resident * 4096,
  };
}

/** Programs started by this process that are still there, those of the loader left out. */
function children(): string[] {
  const found: string[] = [];
  for (const pid of fs.readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      const stat = fs.readFileSync(`/proc/${pid}/stat`, 'utf8');
      const [, name, rest] = /^\d+ \((.*)\) (.*)$/s.exec(stat) ?? [];
      if (Number(rest.split(' ')[1]) === process.pid && !/^(esbuild|node)/.test(name))
        found.push(`${name} (${pid})`);
    } catch {
      // It left while it was looked at.
    }
  }
  return found;
}

/** Watches from its making on; made after a first case, so that what is loaded once counts as there. */
export class LeakWatch {
  private readonly before = held();
  private readonly scratchBefore = new Set(fs.readdirSync(os.tmpdir()));

  /** What is left behind, in words; null when nothing is. @param graceMs time for what is still being tidied up */
  async leak(graceMs = GRACE_MS): Promise<string | null> {
    for (let waitedMs = 0; ; waitedMs += 100) {
      const found = this.look();
      if (found === null || waitedMs >= graceMs) return found;
      (globalThis as { gc?: () => void }).gc?.();
      await sleep(100);
    }
  }

  private look(): string | null {
    const running = children();
    if (running.length > 0) return `programs still run: ${running.join(', ')}`;
    const now = held();
    for (const what of ['files', 'threads'] as const) {
      if (now[what] > this.before[what] + SPARE)
        return `${now[what]} ${what} held, ${this.before[what]} before`;
    }
    const grownBytes = now.residentBytes - this.before.residentBytes;
    if (grownBytes > MOST_GROWTH_BYTES) return `memory grew by ${Math.round(grownBytes / 1e6)} MB`;
    const scratch = fs
      .readdirSync(os.tmpdir())
      .filter((name) => !this.scratchBefore.has(name) && !LOADER_FILES.test(name));
    return scratch.length > 0 ? `left in ${path.basename(os.tmpdir())}: ${scratch.join(', ')}` : null;
  }
}
