/** Disks for tests that may mount them: small ones that fill up, and ones that may only be read. */
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { onTestFinished } from 'vitest';

function mounts(): boolean {
  if (process.platform !== 'linux' || process.geteuid?.() !== 0) return false;
  const place = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-mount-'));
  try {
    mount(place, 64);
    execFileSync('umount', [place], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  } finally {
    fs.rmdirSync(place);
  }
}

function mount(place: string, kB: number): void {
  execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${kB}k`, 'tmpfs', place], { stdio: 'ignore' });
}

/** Whether this machine lets tests mount a disk: Linux, the superuser, outside of most containers. */
export const CAN_MOUNT = mounts();

/** A disk of its own. */
export class SmallDisk {
  readonly #filler: string;

  private constructor(
    /** Where it is mounted. */
    readonly folder: string,
  ) {
    this.#filler = path.join(folder, 'rushes.bin');
  }

  /** Mounts one for the test that asks for it; it goes with that test. */
  static of(kB: number): SmallDisk {
    const place = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-disk-'));
    mount(place, kB);
    onTestFinished(() => {
      execFileSync('umount', ['-l', place], { stdio: 'ignore' });
      fs.rmdirSync(place);
    });
    return new SmallDisk(place);
  }

  /** Writes until nothing more goes in. */
  fill(): void {
    const file = fs.openSync(this.#filler, 'a');
    try {
      for (const bytes of [65_536, 4096, 512]) {
        const some = Buffer.alloc(bytes, 1);
        for (let n = 0; n < 100_000 && writes(file, some); n++);
      }
    } finally {
      fs.closeSync(file);
    }
  }

  /** Takes away what `fill` wrote. */
  empty(): void {
    fs.rmSync(this.#filler, { force: true });
  }

  /** From now on it may only be read. */
  lock(): void {
    execFileSync('mount', ['-o', 'remount,ro', this.folder], { stdio: 'ignore' });
  }

  /** Names on it, but for what fills it. */
  names(below = ''): string[] {
    return fs
      .readdirSync(path.join(this.folder, below))
      .filter((name) => name !== path.basename(this.#filler))
      .sort();
  }
}

function writes(file: number, bytes: Buffer): boolean {
  try {
    return fs.writeSync(file, bytes) === bytes.length;
  } catch {
    return false;
  }
}
